"""How sure a plan is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from finplan.timetable.found import Found
from finplan.timetable.job import PieceWork

if TYPE_CHECKING:
    from finplan.timetable.chance import Lived
    from finplan.timetable.solve import Planner


@dataclass(frozen=True, slots=True)
class Sure:
    """A plan with how it fares."""

    found: Found
    lived: Lived
    in_time: float | None
    """How likely every date is kept; None where there is none."""
    in_time_of: Mapping[str, float]
    """By piece key, how likely its own date is kept, where it has one."""
    kept: bool
    """Whether each date is as surely kept as is wanted."""
    sooner_h: Mapping[str, float] = field(default_factory=dict)
    """By piece key, by how much its date was moved up for that."""
    is_rough: bool = False
    """Whether only few draws were lived through, as they show already that it is not sure enough."""
    has_last_hand: bool = False
    """Whether the last hand is on it."""

    @property
    def least(self) -> float:
        """How surely the piece that is least so is in time; 1 where none has a date."""
        return min(self.in_time_of.values(), default=1.0)


def sure_of(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares when work and drying take more or less than is typical."""
    return _lived_through(planner, found, is_rough=False)


def roughly_sure_of(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares: one of many pieces that is not sure enough in few draws, by those alone."""
    rough = at_a_look(planner, found)
    return in_full(planner, rough) if rough.kept else rough


def at_a_look(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares, one of many pieces in few draws."""
    return _lived_through(planner, found, is_rough=not planner.is_small)


def in_full(planner: Planner, sure: Sure) -> Sure:
    """Return how a plan fares in all draws."""
    if not sure.is_rough:
        return sure
    return replace(sure_of(planner, sure.found), sooner_h=sure.sooner_h, has_last_hand=sure.has_last_hand)


def _lived_through(planner: Planner, found: Found, *, is_rough: bool) -> Sure:
    dues = {piece.key: due for piece, due in dues_of(planner)}
    many = _lived(planner, found, is_rough=is_rough)
    of_piece = {key: many.piece_in_time(key, due) for key, due in dues.items()}
    kept = all(share >= aim_of(planner) for share in of_piece.values())
    return Sure(found, many, many.in_time(dues) if dues else None, of_piece, kept, is_rough=is_rough)


def _lived(planner: Planner, found: Found, *, is_rough: bool) -> Lived:
    """Return how a plan fares, which is worked out once: other dates, and the last hand, often come to the same."""
    from finplan.timetable.chance import lived

    told = frozenset(found.schedule.items()), is_rough
    if told not in planner.lives:
        luck = planner.few_draws if is_rough else planner.luck
        job = planner.job
        planner.lives[told] = lived(job.pieces, planner.setting, found.schedule, job.ready_for, luck)
    return planner.lives[told]


def less_sure(planner: Planner, sure: Sure, than: Sure) -> set[str]:
    """Return the keys of the pieces that are neither as sure as is wanted nor as they were in another plan."""
    aim = aim_of(planner)
    return {key for key, in_time in sure.in_time_of.items() if in_time < min(aim, than.in_time_of[key])}


def aim_of(planner: Planner) -> float:
    """Return how surely the shop wants every date kept."""
    return planner.job.shop.in_time_pct / 100


def dues_of(planner: Planner) -> list[tuple[PieceWork, float]]:
    """Return the pieces that have a date, with its minute."""
    dues = ((piece, planner.job.delivery(piece)) for piece in planner.job.pieces)
    return [(piece, planner.setting.minute(moment)) for piece, moment in dues if moment is not None]
