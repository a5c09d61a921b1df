"""What makes dust before the air of its room is fit for that, and how long it would have to wait after what is put on.

A dust mask stops no vapour, and a motor may light it: by the target ``sanding`` of the catalogue.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from finplan.material import CoatNeed
from finplan.safety.airing import fit_after
from finplan.safety.around import Around
from finplan.safety.coats import Coats, Emissions
from finplan.safety.emission import Emission
from finplan.system import Treatment
from finplan.timetable import STEP_MIN, TimetableStep, hours_between, room_of, steps_by_row

_MAKES_DUST = ("sand", "joints", "abrade", "rub-out", "abrade-again")
_QUARTER_MIN = 15
_OVER = 7.0
"""After so many of the times in which 63 % leaves a thousandth is left, which is not looked at any more."""


@dataclass(frozen=True, slots=True)
class SandedTooEarly:
    """A row that makes dust before the air of its room is fit for that."""

    row: TimetableStep
    start_h: float
    """When it begins, as the emissions have it. [h]"""
    fit_from: datetime
    """From when on it is, by all that was begun there before; rounded up to the next step of a plan."""


@dataclass(frozen=True, slots=True)
class SandingAir:
    """What a plan says of the air in which it makes dust."""

    too_early: tuple[SandedTooEarly, ...]
    waits_h: dict[str, float]
    """By the ids of rows that put something on or wipe with it: how long after them nothing makes dust in that room,
    whatever else of their coat is put on there before. [h]"""


def sanding_air(
    treatments: Sequence[Treatment],
    coats: Sequence[CoatNeed],
    rows: Sequence[TimetableStep],
    around: Around,
    before: Sequence[TimetableStep] = (),
) -> SandingAir:
    """Return what makes dust too early in a plan, and how long it would wait after what is put on.

    Parameters
    ----------
    treatments, coats, rows
        What is done, how much it takes, and when
    around
        The shop and the records
    before
        What was done before, which may still be in the air
    """
    emissions = Coats(treatments, coats, around.catalogue).planned(rows, before)
    early = sanded_too_early(emissions, rows, around)
    return SandingAir(early, dict(_waits(emissions, (*before, *rows), treatments, around)) if early else {})


def may_be_reckoned(treatments: Iterable[Treatment], around: Around) -> bool:
    """Return whether it can be said when the air is fit in the room in which wood is sanded, and vapour gets there."""
    extras = (step.recipe.extra for treatment in treatments for step in treatment.steps)
    wiped = any(name is not None and around.catalogue.extra_steps[name].liquids for name in extras)
    bench = room_of(around.shop, "sanding")
    air = around.air_of(bench)
    beside = any(room_of(around.shop, use) == bench for use in ("coating", "spraying", "drying"))
    return (beside or wiped) and air.volume_m3 is not None and bool(air.flow_m3_h)


def sanded_too_early(emissions: Emissions, rows: Sequence[TimetableStep], around: Around) -> tuple[SandedTooEarly, ...]:
    """Return the rows that make dust before the air of their room is fit for it, by all that was begun there before."""
    early: list[SandedTooEarly] = []
    for row in rows if emissions.origin is not None else ():
        if _makes_dust(row, around) and emissions.origin is not None:
            start_h = hours_between(emissions.origin, row.start)
            begun = [emission for emission in emissions.in_room(row.room) if emission.start_h < start_h]
            wait_h = _wait_h(begun, start_h, row.room, around)
            fit = sanded_from(emissions.clock(start_h + wait_h)) if wait_h else None
            if fit is not None:
                early.append(SandedTooEarly(row, start_h, fit))
    return tuple(early)


def _makes_dust(row: TimetableStep, around: Around) -> bool:
    if row.kind != "attended":
        return False
    return row.deed in _MAKES_DUST or (row.extra is not None and around.catalogue.extra_steps[row.extra].dusty)


def _wait_h(begun: Iterable[Emission], since_h: float, room: str, around: Around) -> float | None:
    """Return how long after a moment the air of a room is fit for sanding; None where that cannot be said. [h]

    As for a session the fan is on, and the exhaust of a booth where something was sprayed in it.
    """
    air = around.air_of(room)
    if air.volume_m3 is None or not air.flow_m3_h:
        return None
    emissions = list(begun)
    flow_m3_h = air.flow_m3_h + (air.booth_m3_h if any(emission.at_booth for emission in emissions) else 0.0)
    changed_h = air.volume_m3 / flow_m3_h
    left = [emission for emission in emissions if since_h - emission.gone_h < _OVER * max(changed_h, emission.decay_h)]
    if not left:
        return 0.0
    target = around.catalogue.air_targets["sanding"]
    return fit_after(left, since_h, target, air.volume_m3, flow_m3_h, around.catalogue)


def _waits(
    emissions: Emissions, rows: Sequence[TimetableStep], treatments: Sequence[Treatment], around: Around
) -> Iterator[tuple[str, float]]:
    """Give how long nothing makes dust after rows, as if all of one coat on all items were finished at one moment.

    However far apart they are then put on, each has so much less in the air, so that together they keep the target. Of
    what an earlier coat left in the air nothing is counted.
    """
    steps = steps_by_row(rows, treatments)
    attended = {row.id: row for row in rows if row.kind == "attended"}
    rooms = {row.room for row in rows if _makes_dust(row, around)}
    of_coat: dict[tuple[object, ...], list[Emission]] = {}
    for emission in (*emissions.before, *emissions.emissions):
        if emission.room in rooms and emission.id in steps:
            _, step = steps[emission.id]
            of_coat.setdefault((emission.room, step.recipe.extra, step.finish, step.coat), []).append(emission)
    for (room, *_), own in of_coat.items():
        names = dict.fromkeys(vapour.id for vapour in own)
        cleaned = [attended[name] for name in names if attended[name].deed == "clean-up"]
        cleaning_h = max((hours_between(row.start, row.end) for row in cleaned), default=0.0)
        at_one = [
            replace(vapour, start_h=vapour.start_h - vapour.end_h, end_h=0.0, gone_h=vapour.gone_h - vapour.end_h)
            for vapour in own
        ]
        wait_h = _wait_h(at_one, 0.0, str(room), around)
        if wait_h:
            yield from ((name, wait_h + cleaning_h) for name in names if attended[name].deed != "clean-up")


def sanded_from(moment: datetime | None) -> datetime | None:
    """Return from when on a plan may sand, its steps being of five minutes: it begins no sooner than is told."""
    return _rounded_up(moment, STEP_MIN)


def quarter_after(moment: datetime | None) -> datetime | None:
    """Return a moment rounded up to a quarter of an hour."""
    return _rounded_up(moment, _QUARTER_MIN)


def _rounded_up(moment: datetime | None, step_min: int) -> datetime | None:
    if moment is None:
        return None
    universal = moment.astimezone(UTC)
    day = universal.replace(hour=0, minute=0, second=0, microsecond=0)
    minutes = math.ceil((universal - day).total_seconds() / 60 / step_min - 1e-6) * step_min
    return (day + timedelta(minutes=minutes)).astimezone(moment.tzinfo)
