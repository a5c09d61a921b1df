"""How deep sanding goes: what each grit takes, what it leaves, and what a veneer has to spare."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from finplan.catalogue import SandingRules
from finplan.quantity import Range

_MM_PER_UM = 1e-3


def removed_mm(levelling_mm: Range, sizes_um: Sequence[float], scratch: Range) -> tuple[Range, ...]:
    """Return what each grit takes off. [mm]

    Parameters
    ----------
    levelling_mm
        What has to come off a surface as it comes
    sizes_um
        Mean grain size of each grit, in order. [µm]
    scratch
        How deep a scratch is, as a share of the grain size. [-]

    Notes
    -----
    The first grit levels; each later one takes off the scratches of the one before. Common trade practice.

    Examples
    --------
    >>> [round(mm.typical, 4) for mm in removed_mm(Range(0.1, 0.2, 0.3), [201, 125, 82], Range(0.15, 0.25, 0.35))]
    [0.2, 0.0502, 0.0312]
    """
    later = (scratch.scaled(coarse * _MM_PER_UM) for coarse, _ in pairwise(sizes_um))
    return (levelling_mm, *later) if sizes_um else ()


def depth_mm(levelling_mm: Range, sizes_um: Sequence[float], scratch: Range) -> Range:
    """Return how deep sanding reaches: all that is taken off, and the scratches of the last grit. [mm]

    Parameters are those of ``removed_mm``.

    Examples
    --------
    >>> depth = depth_mm(Range(0, 0, 0), [100, 82, 68], Range(0.15, 0.25, 0.35))
    >>> round(depth.low, 4), round(depth.typical, 4), round(depth.high, 4)
    (0.0375, 0.0625, 0.0875)
    """
    return levelling_mm.plus(Range.total(scratch.scaled(size_um * _MM_PER_UM) for size_um in sizes_um))


def budget_mm(veneer_mm: float, rules: SandingRules) -> float:
    """Return how deep a veneer may be sanded: a share of its thickness, but never more than thin ones have. [mm]"""
    return min(veneer_mm * rules.veneer.share_pct / 100, rules.veneer.most_mm)
