"""All that is reckoned about the safety of a plan: sessions, cloths, cartridges, dust, rules."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from finplan.catalogue import SandingMethod
from finplan.inputs import Shop
from finplan.material import CoatNeed
from finplan.quantity import Range
from finplan.safety.air_remedy import AirRemedy
from finplan.safety.airing import Purpose, airings
from finplan.safety.around import Around
from finplan.safety.coats import Coats, Emissions
from finplan.safety.conditions import Condition, session_conditions
from finplan.safety.contact import ContactLine, contact_lines
from finplan.safety.dangers import Background, dangers
from finplan.safety.dust import DustReport, dust_report
from finplan.safety.duty import Duty
from finplan.safety.fit_to_sand import SandedTooEarly, quarter_after, sanded_from, sanded_too_early
from finplan.safety.measuring import Unmeasured, to_measure
from finplan.safety.rags import OilyWaste, oily_waste, rag_ticks
from finplan.safety.regulation import VocLine, voc_lines
from finplan.safety.remedies import remedies
from finplan.safety.session import Session, by_session, session
from finplan.sanding import SandingPlan
from finplan.system import FaceGroup, Treatment
from finplan.timetable import Timetable, TimetableStep


@dataclass(frozen=True, slots=True)
class FitAgain:
    """From when on the air of a room is fit for something."""

    purpose: Purpose
    """A name in the catalogue's air-targets."""
    hours: float | None
    """Of airing once the last coat is on; None where it cannot be said."""
    at: datetime | None
    """Rounded up to a quarter of an hour, for sanding to the next step of a plan; None where that cannot be said."""


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
    too_early: tuple[SandedTooEarly, ...]
    """Rows that make dust in the same room before its air is fit for that: of the last session before them."""

    @property
    def fit_to_sand(self) -> tuple[datetime, ...]:
        """From when its air is fit to be sanded in, of all that say so."""
        return tuple(again.at for again in self.fit_again if again.purpose == "sanding" and again.at is not None)

    @property
    def fit_to_enter(self) -> datetime | None:
        """From when the air is fit to work in, and nothing gives anything off any more; None if not known.

        Where something else is put on beside isocyanate, its vapour counts too, which may be longer than it has to be:
        no source of the catalogue says when isocyanate has gone, and what is in the air by then has to be fit as well.
        """
        fit = self.fit_to_sand
        return None if not fit or self.vapour_until is None else max(*fit, self.vapour_until)


@dataclass(frozen=True, slots=True)
class Safety:
    """What is reckoned; what is only said stands with the cautions."""

    sessions: tuple[SessionReport, ...]
    too_early: tuple[SandedTooEarly, ...]
    """What makes dust before the air of its room is fit for that, in order of time."""
    to_measure: Unmeasured | None
    """What to measure where nothing is known of a room's air, and how the answer would change; None elsewhere."""
    waste: tuple[OilyWaste, ...]
    ticks: tuple[Duty, ...]
    """Of cloths, in order of time."""
    dust: DustReport
    voc: tuple[VocLine, ...]
    contact: tuple[ContactLine, ...]


def background_of(sanding: Sequence[SandingPlan], around: Around) -> Background:
    """Return what is known of a job beside what is put on what, from the sanding of every piece."""
    ways: dict[FaceGroup, list[SandingMethod]] = {}
    for plan in sanding:
        for group in plan.groups:
            ways[group.group] = [around.catalogue.sanding_methods[step.method] for step in group.steps]
    return Background(machines=_sanded_by("machine", ways), lathes=_sanded_by("lathe", ways))


def _sanded_by(
    by: Literal["machine", "lathe"], ways: Mapping[FaceGroup, Iterable[SandingMethod]]
) -> dict[FaceGroup, tuple[str, ...]]:
    return {group: tuple(dict.fromkeys(way.title for way in of if way.by == by)) for group, of in ways.items()}


def safety_report(
    treatments: Sequence[Treatment],
    coats: Sequence[CoatNeed],
    sanding: Sequence[SandingPlan],
    timetable: Timetable,
    around: Around,
    before: Sequence[TimetableStep] = (),
) -> Safety:
    """Return all that is reckoned about the safety of pieces that are finished together.

    Parameters
    ----------
    treatments, coats, sanding, timetable
        What is done, how much it takes, how each piece is sanded, and when; where no timetable is possible, coats are
        reckoned one by one
    around
        The shop and the records
    before
        What was done before the timetable, which may still be in the air
    """
    catalogue, shop = around.catalogue, around.shop
    rows = timetable.steps
    emitted = Coats(treatments, coats, catalogue)
    # Where all is done there are no rows, and nothing is left that could set anything free.
    planned = emitted.planned(rows, before) if timetable.has_plan else None
    together = [planned] if planned is not None else emitted.unplanned(_coating_room(shop))
    labels = {step.id: f"{treatment.item}: {step.label}" for treatment in treatments for step in treatment.steps}
    labels |= {row.id: f"{row.item}: {row.step}" for row in rows}
    early = () if planned is None else sanded_too_early(planned, rows, around)
    sessions = tuple(report for emissions in together for report in _sessions(emissions, labels, early, around))
    waste = oily_waste(treatments, catalogue)
    bench = shop.room_for("sanding")
    there = dangers(treatments, catalogue, background_of(sanding, around))
    return Safety(
        sessions=sessions,
        too_early=early,
        to_measure=to_measure([report.session for report in sessions], catalogue),
        waste=waste,
        ticks=tuple(sorted(rag_ticks(rows, waste), key=lambda tick: (tick.due, tick.row is None))),
        dust=dust_report(
            Range.total(plan.dust_g for plan in sanding),
            hardwood="hardwood-dust" in there,
            lead="old-paint" in there,
            room=bench if around.rooms_given else None,
            volume_m3=around.air_of(bench).volume_m3,
            catalogue=catalogue,
        ),
        voc=voc_lines(treatments, catalogue),
        contact=contact_lines(treatments, catalogue, dict(timetable.cured)),
    )


def _coating_room(shop: Shop) -> str:
    return shop.room_for("coating") or next(iter(shop.rooms))


def _sessions(
    emissions: Emissions, labels: dict[str, str], early: Sequence[SandedTooEarly], around: Around
) -> Iterator[SessionReport]:
    groups = by_session(emissions.emissions)
    for index, group in enumerate(groups):
        room, start_h = group[0].room, group[0].start_h
        in_room = emissions.in_room(room)
        next_h = min((later[0].start_h for later in groups[index + 1 :] if later[0].room == room), default=math.inf)
        here = tuple(sanded for sanded in early if sanded.row.room == room and start_h < sanded.start_h <= next_h)
        session_ = session(group, in_room, around.air_of(room), around.catalogue)
        yield _report(session_, emissions, labels, here, around)


def _report(
    session_: Session,
    emissions: Emissions,
    labels: dict[str, str],
    early: tuple[SandedTooEarly, ...],
    around: Around,
) -> SessionReport:
    start = emissions.clock(session_.start_h)
    fit_again = tuple(
        FitAgain(
            airing.purpose,
            airing.hours,
            None if airing.hours is None else rounded(emissions.clock(session_.end_h + airing.hours)),
        )
        for airing in airings(session_, around.catalogue)
        for rounded in (sanded_from if airing.purpose == "sanding" else quarter_after,)
    )
    return SessionReport(
        session=session_,
        start=start,
        vapour_until=quarter_after(emissions.clock(session_.gone_h)),
        steps=session_.steps,
        labels=tuple(labels[step] for step in session_.steps),
        conditions=session_conditions(session_, without_booth=around.shop.spray_without_booth is not None),
        remedies=remedies(session_, around.catalogue),
        fit_again=fit_again,
        too_early=early,
    )
