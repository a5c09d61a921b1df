"""How fast wood comes off: by the tool, the size of the grain and the hardness of the timber."""

from __future__ import annotations

from math import exp, hypot, log

from finplan.catalogue import BareWood, SandingRules
from finplan.quantity import Range

DENSITY_KG_M3 = 1120.0
# Density at 12 % moisture per unit of specific gravity on volume at 12 %: 1000 kg/m³ of water times 1.12.
# Source: USDA FPL-GTR-190 Wood Handbook (2010), chapter 4, density from specific gravity and moisture content.


def mass_g(depth_mm: Range, area_m2: float, specific_gravity: float) -> Range:
    """Return what wood of so many millimetres weighs. [g]

    >>> round(mass_g(Range(0.1, 0.1, 0.1), 2.4, 0.63).typical, 1)
    169.3
    """
    return depth_mm.scaled(area_m2 * DENSITY_KG_M3 * specific_gravity)


def removal_g_min(
    way: BareWood, size_um: float, rules_size_um: float, specific_gravity: float, rules: SandingRules
) -> Range:
    """Return what a way of sanding takes off bare wood in a minute, flat and along the grain. [g/min]

    Parameters
    ----------
    way
        The way of sanding
    size_um, rules_size_um
        Mean grain size of the grade, and of that for which its removal holds. [µm]
    specific_gravity
        Of the timber, at 12 % moisture
    rules
        For which grade and timber a removal holds, and how hardness rises with the specific gravity

    Notes
    -----
    The volume worn off is inversely proportional to hardness (Archard 1953, recalled), which rises as ``G**hardness``:
    so does the time for a volume, and the mass in a minute falls as ``G**(hardness - 1)``. It is proportional to the
    size of the grain, as the depth of a scratch is. A belt took off hardwood 1.5 times slower with P180 than with P120
    and softwood 1.25 times (Sydor et al., Applied Sciences 2021, 11:2860); the sizes stand as 1.52 to 1.
    """
    cutting = rules.cutting
    by_timber = (specific_gravity / cutting.specific_gravity) ** (1 - cutting.hardness)
    return way.removal_g_min.scaled(size_um / rules_size_um * by_timber)


def independent_quotient(amount: Range, rate: Range) -> Range:
    """Return an amount over a rate whose spreads have nothing to do with each other.

    The spreads are ratios to the typical value, and add as the root of the sum of their squares of logarithms.

    >>> found = independent_quotient(Range(5, 10, 20), Range(1, 2, 4))
    >>> round(found.low, 2), found.typical, round(found.high, 2)
    (1.88, 5.0, 13.33)
    """
    if not amount.typical:
        return Range(0.0, 0.0, amount.high / rate.typical)
    typical = amount.typical / rate.typical
    slower = hypot(log(amount.high / amount.typical), log(rate.typical / rate.low))
    faster = hypot(log(amount.typical / amount.low), log(rate.high / rate.typical)) if amount.low else None
    return Range(0.0 if faster is None else typical * exp(-faster), typical, typical * exp(slower))
