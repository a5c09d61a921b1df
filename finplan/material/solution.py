"""What is dissolved: how much solid and liquid a volume takes, and the pound cuts of shellac."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Dissolve

_G_PER_LB = 453.59237
_L_PER_US_GAL = 3.785411784
# Source: NIST Handbook 44, appendix C: the international pound, and the US gallon of 231 cubic inches.
G_L_PER_CUT = _G_PER_LB / _L_PER_US_GAL
"""Flakes to a litre of alcohol in a one pound cut. [g/l]"""


@dataclass(frozen=True, slots=True)
class Solution:
    """What a litre of a solution holds."""

    solid_g: float
    liquid_ml: float

    @property
    def solid_g_ml(self) -> float:
        """Solid in a millilitre of the solution. [g/ml]"""
        return self.solid_g / 1000

    @property
    def liquid_share(self) -> float:
        """Liquid, by volume, to one of the solution."""
        return self.liquid_ml / 1000


def solution(strength_g_l: float, density_g_l: float) -> Solution:
    """Return what is in a litre of a solution.

    Parameters
    ----------
    strength_g_l
        Solid to a litre of liquid, not of solution. [g/l]
    density_g_l
        Of the solid itself. [g/l]

    Notes
    -----
    The volumes add: a litre of liquid with m grams fills ``1 + m / density`` litres. Three published charts on shellac
    have a gallon of alcohol grow by a tenth for each pound of flakes, which is a density of 1.15 to 1.2 kg/l.

    Examples
    --------
    >>> solution(239.653, 1150.0)
    Solution(solid_g=198.32, liquid_ml=827.54)
    """
    fills_l = 1 + strength_g_l / density_g_l
    return Solution(strength_g_l / fills_l, 1000 / fills_l)


def solution_of(recipe: Dissolve) -> Solution:
    """Return what is in a litre of what a recipe makes."""
    return solution(recipe.strength_g_l, recipe.density_g_l.typical)


def cut_of(strength_g_l: float) -> float:
    """Return a strength as a cut: pounds of flakes to a US gallon of alcohol.

    >>> cut_of(239.653), cut_of(119.826)
    (2.0, 1.0)
    """
    return strength_g_l / G_L_PER_CUT


def thinned_strength(strength_g_l: float, density_g_l: float, thinner_pct: float) -> float:
    """Return the strength that is left when a solution is thinned with more of its liquid. [g/l]

    Parameters
    ----------
    strength_g_l, density_g_l
        As of the solution. [g/l]
    thinner_pct
        More liquid, by volume of the solution. [%]

    Notes
    -----
    A litre of liquid makes ``1 + c / density`` litres of solution, and p times that is added to it:
    ``c / (1 + p (1 + c / density))``.

    Examples
    --------
    >>> cut_of(thinned_strength(239.653, 1150.0, 82.8))  # a two pound cut to one pound
    1.0
    """
    return strength_g_l / (1 + thinner_pct / 100 * (1 + strength_g_l / density_g_l))
