"""All that is reckoned about the safety of a plan: sessions, cloths, cartridges, dust, rules."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.material import CoatNeed
from finplan.quantity import Range
from finplan.safety.air_remedy import AirRemedy
from finplan.safety.airing import Purpose, airings
from finplan.safety.cartridges import CartridgeUse, cartridge_use
from finplan.safety.coats import Coats, Emissions
from finplan.safety.conditions import Condition, conditions
from finplan.safety.contact import ContactLine, contact_lines
from finplan.safety.dangers import Background, dangers
from finplan.safety.dust import DustReport, dust_report
from finplan.safety.duty import Duty
from finplan.safety.measuring import Unmeasured, to_measure
from finplan.safety.rags import OilyWaste, oily_waste, rag_ticks
from finplan.safety.regulation import VocLine, voc_lines
from finplan.safety.remedies import remedies
from finplan.safety.room_air import RoomAir, room_air
from finplan.safety.session import Session, grouped, session
from finplan.sanding import SandingPlan
from finplan.system import FaceGroup, Treatment
from finplan.timetable import Timetable, TimetableStep

_MAKES_DUST = ("sand", "joints", "abrade", "rub-out", "abrade-again")
_QUARTER_MIN = 15


@dataclass(frozen=True, slots=True)
class FitAgain:
    """From when on the air of a room is fit for something."""

    purpose: Purpose
    """A name in the catalogue's air-targets."""
    hours: float | None
    """Of airing once the last coat is on; None where it cannot be said."""
    at: datetime | None
    """Rounded up to a quarter of an hour; None where that cannot be said or nothing has a place in time."""


@dataclass(frozen=True, slots=True)
class SessionReport:
    """A coating session with its place in time and what to do about it."""

    session: Session
    start: datetime | None
    vapour_until: datetime | None
    """When the last of its solvent is in the air."""
    steps: tuple[str, ...]
    """The ids of its rows."""
    labels: tuple[str, ...]
    conditions: tuple[Condition, ...]
    """What is ticked before the tin is opened."""
    remedies: tuple[AirRemedy, ...]
    fit_again: tuple[FitAgain, ...]
    too_early: tuple[TimetableStep, ...]
    """Rows that sand in the same room before its air is fit for that."""


@dataclass(frozen=True, slots=True)
class Safety:
    """What is reckoned; what is only said stands with the cautions."""

    sessions: tuple[SessionReport, ...]
    to_measure: Unmeasured | None
    """What to measure where nothing is known of a room's air, and how the answer would change; None elsewhere."""
    waste: tuple[OilyWaste, ...]
    ticks: tuple[Duty, ...]
    """Cloths and cartridges, in order of time."""
    cartridges: tuple[CartridgeUse, ...]
    """Of everybody who wears a mask against vapour."""
    dust: DustReport
    voc: tuple[VocLine, ...]
    contact: tuple[ContactLine, ...]


@dataclass(frozen=True, slots=True)
class Around:
    """Where the work is done, and what else is known."""

    catalogue: Catalogue
    shop: Shop
    rooms_given: bool
    """Whether the shop file speaks of its rooms; the rooms of the default shop are nobody's."""


def background_of(sanding: Sequence[SandingPlan], around: Around) -> Background:
    """Return what is known of a job beside what is put on what, from the sanding of every piece."""
    machines: dict[FaceGroup, tuple[str, ...]] = {}
    for plan in sanding:
        for group in plan.groups:
            methods = [around.catalogue.sanding_methods[step.method] for step in group.steps]
            machines[group.group] = tuple(dict.fromkeys(method.title for method in methods if method.by == "machine"))
    return Background(machines)


def safety_report(
    treatments: Sequence[Treatment],
    coats: Sequence[CoatNeed],
    sanding: Sequence[SandingPlan],
    timetable: Timetable,
    around: Around,
) -> Safety:
    """Return all that is reckoned about the safety of pieces that are finished together.

    Parameters
    ----------
    treatments, coats, sanding, timetable
        What is done, how much it takes, how each piece is sanded, and when; where no timetable is possible, coats are
        reckoned one by one
    around
        The shop and the records
    """
    catalogue, shop = around.catalogue, around.shop
    rows = timetable.steps
    found = Coats(treatments, coats, catalogue)
    # Where all is done there are no rows, and nothing is left that could set anything free.
    planned = found.planned(rows) if timetable.has_plan else None
    together = [planned] if planned is not None else found.unplanned(_coating_room(shop))
    labels = {step.id: f"{treatment.item}: {step.label}" for treatment in treatments for step in treatment.steps}
    labels |= {row.id: f"{row.item}: {row.step}" for row in rows}
    sessions = tuple(report for emissions in together for report in _sessions(emissions, labels, rows, around))
    waste = oily_waste(treatments, catalogue)
    in_vapour = [
        step for one in sessions for condition in one.conditions if condition.kind == "mask" for step in condition.steps
    ]
    cartridges = cartridge_use(rows, in_vapour, catalogue)
    ticks = rag_ticks(rows, waste) + tuple(tick for use in cartridges for tick in use.ticks)
    bench = shop.room_for("sanding")
    there = dangers(treatments, catalogue, background_of(sanding, around))
    return Safety(
        sessions=sessions,
        to_measure=to_measure([one.session for one in sessions], catalogue),
        waste=waste,
        ticks=tuple(sorted(ticks, key=lambda tick: (tick.due, tick.row is None))),
        cartridges=cartridges,
        dust=dust_report(
            Range.total(plan.dust_g for plan in sanding),
            hardwood="hardwood-dust" in there,
            lead="old-paint" in there,
            room=bench if around.rooms_given else None,
            volume_m3=_air(bench, around).volume_m3,
            catalogue=catalogue,
        ),
        voc=voc_lines(treatments, catalogue),
        contact=contact_lines(treatments, catalogue, dict(timetable.cured)),
    )


def _coating_room(shop: Shop) -> str:
    return shop.room_for("coating") or next(iter(shop.rooms))


def _sessions(
    emissions: Emissions, labels: dict[str, str], rows: Sequence[TimetableStep], around: Around
) -> Iterator[SessionReport]:
    for group in grouped(emissions.emissions):
        room = group[0].room
        in_room = [one for one in emissions.emissions if one.room == room]
        one = session(group, in_room, _air(room, around), around.catalogue)
        yield _report(one, emissions, labels, rows, around)


def _air(room: str | None, around: Around) -> RoomAir:
    given = around.shop.rooms.get(room or "") if around.rooms_given else None
    return room_air(given, around.catalogue)


def _report(
    one: Session,
    emissions: Emissions,
    labels: dict[str, str],
    rows: Sequence[TimetableStep],
    around: Around,
) -> SessionReport:
    start = emissions.clock(one.start_h)
    fit_again = tuple(
        FitAgain(
            airing.purpose,
            airing.hours,
            None if airing.hours is None else _quarter_after(emissions.clock(one.end_h + airing.hours)),
        )
        for airing in airings(one, around.catalogue)
    )
    sanding_from = next(fit.at for fit in fit_again if fit.purpose == "sanding")
    return SessionReport(
        session=one,
        start=start,
        vapour_until=_quarter_after(emissions.clock(one.gone_h)),
        steps=one.steps,
        labels=tuple(labels[step] for step in one.steps),
        conditions=conditions(one),
        remedies=remedies(one, around.catalogue),
        fit_again=fit_again,
        too_early=tuple(
            row
            for row in rows
            if row.deed in _MAKES_DUST
            and row.room == one.room
            and start is not None
            and sanding_from is not None
            and start <= row.start < sanding_from
        ),
    )


def _quarter_after(moment: datetime | None) -> datetime | None:
    """Return a moment rounded up to a quarter of an hour."""
    if moment is None:
        return None
    universal = moment.astimezone(UTC)
    day = universal.replace(hour=0, minute=0, second=0, microsecond=0)
    minutes = math.ceil((universal - day).total_seconds() / 60 / _QUARTER_MIN - 1e-6) * _QUARTER_MIN
    return (day + timedelta(minutes=minutes)).astimezone(moment.tzinfo)
