"""From a start grit to a stop grit in the fewest steps whose grain sizes do not fall too far at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

_ROUNDING = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class Progression:
    """The grits to use, coarse to fine, and the farthest fall between two of them."""

    grits: tuple[str, ...]
    worst_ratio: float
    """The largest ratio of one grain size to the next; 1 where there is one grit."""
    within_cap: bool


def progression(start: str, stop: str, sizes_um: Mapping[str, float], cap: float) -> Progression:
    """Return the shortest way from *start* to *stop* in the grades at hand.

    Parameters
    ----------
    start, stop
        The first and the last grit wanted
    sizes_um
        Mean grain size of every grade at hand. [µm]
    cap
        How many times larger one grain may be than the next. [-], above 1

    Notes
    -----
    Where a grade is not at hand, the next coarser one stands in for the start and the next finer one for the stop.
    Where no way keeps the cap, the one whose worst fall is the least. Among ways of equal length the one that takes
    its long strides early. Where the start is finer than the stop, the stop alone.

    Raises
    ------
    ValueError
        No grade is at hand, or the cap is not above 1.

    Examples
    --------
    >>> sizes = {"P80": 201, "P100": 162, "P120": 125, "P150": 100, "P180": 82, "P220": 68}
    >>> progression("P80", "P220", sizes, 1.67).grits
    ('P80', 'P120', 'P180', 'P220')
    >>> progression("P80", "P220", sizes, 1.50).grits
    ('P80', 'P100', 'P120', 'P150', 'P220')
    """
    if not sizes_um or cap <= 1:
        msg = f"a progression needs grades and a cap above 1, got {len(sizes_um)} grades and {cap:g}"
        raise ValueError(msg)
    last = stand_in(stop, sizes_um, finer=True)
    first = stand_in(start, sizes_um, finer=False)
    if sizes_um[first] <= sizes_um[last]:
        return Progression((last,), 1.0, within_cap=True)
    between = [grit for grit in sizes_um if sizes_um[last] <= sizes_um[grit] <= sizes_um[first]]
    between.sort(key=lambda grit: -sizes_um[grit])
    best: dict[str, tuple[float, int, tuple[float, ...], tuple[str, ...]]] = {}
    for grit in reversed(between):
        if grit == last:
            best[grit] = (1.0, 1, (sizes_um[grit],), (grit,))
            continue
        ways = []
        for finer in between[between.index(grit) + 1 :]:
            worst, steps, later_um, grits = best[finer]
            ratio = sizes_um[grit] / sizes_um[finer]
            passed = max(worst, ratio if ratio > cap * _ROUNDING else 1.0)
            ways.append((passed, steps + 1, (sizes_um[grit], *later_um), (grit, *grits)))
        best[grit] = min(ways)
    _, _, ladder_um, grits = best[first]
    falls = [coarse / fine for coarse, fine in pairwise(ladder_um)]
    return Progression(grits, max(falls), within_cap=max(falls) <= cap * _ROUNDING)


def stand_in(grit: str, sizes_um: Mapping[str, float], *, finer: bool) -> str:
    """Return *grit*, or where it is not at hand the next grade to that side, or the last one there is.

    Grades are P-grades; a number that is not at hand is placed among those that are by its number.
    """
    if grit in sizes_um:
        return grit
    number = int(grit.removeprefix("P"))
    numbered = sorted(sizes_um, key=lambda name: int(name.removeprefix("P")))
    if finer:
        return next((name for name in numbered if int(name[1:]) >= number), numbered[-1])
    return next((name for name in reversed(numbered) if int(name[1:]) <= number), numbered[0])
