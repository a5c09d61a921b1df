"""From a start grit to a stop grit in the fewest steps whose grain sizes do not fall too far at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

_ROUNDING = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class Fall:
    """One step from a grade to the next."""

    coarse: str
    fine: str
    ratio: float
    """How many times smaller the grain becomes."""


@dataclass(frozen=True, slots=True)
class Progression:
    """The grits to use, coarse to fine, and the steps between two of them that pass the cap."""

    grits: tuple[str, ...]
    beyond_cap: tuple[Fall, ...]

    @property
    def within_cap(self) -> bool:
        """Whether no step passes the cap."""
        return not self.beyond_cap


def progression(start: str, stop: str, sizes_um: Mapping[str, float], cap: float) -> Progression:
    """Return the shortest way from *start* to *stop* in the grades at hand.

    Parameters
    ----------
    start, stop
        The first and the last grit, both at hand
    sizes_um
        Mean grain size of every grade at hand. [µm]
    cap
        How many times larger one grain may be than the next. [-], above 1

    Notes
    -----
    From each grit the finest that the cap allows, or where it allows none, the next one. No way that keeps the cap has
    fewer steps: after any number of them none is finer. Where two neighbours at hand lie farther apart than the cap,
    every way has to cross that gap; this one crosses it from edge to edge, so that none passes the cap by less.

    Raises
    ------
    ValueError
        The start or the stop is not at hand, the stop is coarser than the start, or the cap is not above 1.

    Examples
    --------
    >>> sizes = {"P80": 201, "P100": 162, "P120": 125, "P150": 100, "P180": 82, "P220": 68}
    >>> progression("P80", "P220", sizes, 1.67).grits
    ('P80', 'P120', 'P180', 'P220')
    >>> progression("P80", "P220", sizes, 1.50).grits
    ('P80', 'P100', 'P120', 'P150', 'P220')
    """
    if not cap > 1:
        msg = f"a cap of {cap:g} allows no step; it has to be above 1"
        raise ValueError(msg)
    for grit in (start, stop):
        if grit not in sizes_um:
            msg = f"{grit} is not among the grades at hand: {', '.join(sizes_um) or 'there are none'}"
            raise ValueError(msg)
    if sizes_um[stop] > sizes_um[start]:
        raise ValueError(stop_too_coarse(start, stop, sizes_um))
    finer = sorted(
        (grit for grit in sizes_um if sizes_um[stop] <= sizes_um[grit] < sizes_um[start] and grit != stop),
        key=lambda grit: -sizes_um[grit],
    )
    ahead = [*finer, stop] if stop != start else []
    grits = [start]
    while ahead:
        reached = [grit for grit in ahead if sizes_um[grits[-1]] / sizes_um[grit] <= cap * _ROUNDING]
        chosen = reached[-1] if reached else ahead[0]
        grits.append(chosen)
        ahead = ahead[ahead.index(chosen) + 1 :]
    return Progression(
        grits=tuple(grits),
        beyond_cap=tuple(fall for fall in _falls(grits, sizes_um) if fall.ratio > cap * _ROUNDING),
    )


def _falls(grits: Iterable[str], sizes_um: Mapping[str, float]) -> Iterable[Fall]:
    return (Fall(coarse, fine, sizes_um[coarse] / sizes_um[fine]) for coarse, fine in pairwise(grits))


def stop_too_coarse(start: str, stop: str, sizes_um: Mapping[str, float]) -> str:
    """Return what is wrong with a stop grit that is coarser than the start."""
    return (
        f"the stop grit {stop} ({sizes_um[stop]:g} µm) is coarser than the start grit {start} ({sizes_um[start]:g} µm)"
    )
