"""A plan as a calendar file: work, drying and dates as events that a later plan moves instead of doubling them."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event

from finplan.export.time_zone import time_zone
from finplan.material import poured_words
from finplan.plan import Plan, PlannedPiece
from finplan.showing import show_measured
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep

_UIDS = uuid.UUID("5f1f6a5e-6a0c-5d39-9c39-2f0b6c9d7a11")
"""A name space of our own, drawn once: identifiers made in it meet no others."""
_MOMENT = timedelta(minutes=15)
"""How long a date is shown, so that it can be seen between the others."""
_TO_THE_MINUTE = "%a %d %b %H:%M"


def plan_calendar(plan: Plan, made: datetime, issue: int = 1) -> bytes:
    """Return a plan as an iCalendar object.

    Parameters
    ----------
    plan
        One that fits
    made
        When the plan was made, for the stamp that every event has; knows its time zone
    issue
        The how-manieth calendar of these pieces it is: where a program asks, a higher one replaces a lower one

    Notes
    -----
    An event is known by what is done to which item of which piece, never by its time, so that another plan of the same
    pieces moves it. What another plan no longer has stays in the calendar until somebody deletes it. Times are local,
    with the zone described in the file; the hour that comes twice in autumn is given in universal time.
    Source: RFC 5545, sections 3.6.1, 3.6.5, 3.8.4.7 and 3.8.7.

    Raises
    ------
    ValueError
        There is nothing in the plan.
    """
    moments = [moment for step in plan.timetable.steps for moment in (step.start, step.end)]
    moments += [moment for one in plan.timetable.pieces for moment in (one.ready, one.deliver) if moment is not None]
    if not moments:
        msg = "a plan without a step has no calendar"
        raise ValueError(msg)
    calendar = Calendar()
    calendar.add("prodid", f"-//finplan//finplan {plan.version}//EN")
    calendar.add("version", "2.0")
    calendar.add("name", _clean(", ".join(piece.name for piece in plan.pieces)))
    calendar.add_component(time_zone(plan.shop.time_zone, min(moments), max(moments)))
    for event in (*_steps(plan), *_dates(plan)):
        event.add("dtstamp", made.astimezone(UTC))
        event.add("sequence", issue)
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


# --- work and drying --------------------------------------------------------------------------------------------------


def _steps(plan: Plan) -> Iterator[Event]:
    steps = {step.id: (treatment, step) for treatment in plan.treatments for step in treatment.steps}
    stretches: Counter[str] = Counter()
    for row in plan.timetable.steps:
        stretches[row.id] += 1
        piece = plan.piece_of(row)
        uid = _uid(piece, row.id.removeprefix(piece.key), str(stretches[row.id]))
        event = _event(plan, uid, row.start, row.end, f"{_of(piece, plan)}{row.item}: {row.step}")
        event.add("location", _clean(row.room))
        if row.kind == "drying":
            event.add("transp", "TRANSPARENT")
            event.add("description", _clean(_dry(row), lines=True))
        else:
            event.add("description", _clean("\n".join(_work(row, steps.get(row.id), plan)), lines=True))
            _add_alarms(event, row, plan)
        yield event


def _work(row: TimetableStep, known: tuple[Treatment, TreatmentStep] | None, plan: Plan) -> Iterator[str]:
    """Give what has to be known at the bench; the sheet says the rest."""
    if row.person:
        yield f"For {row.person}."
    if known is not None and known[1].finish is not None:
        yield from _coat(row, *known, plan)
    elif row.deed in ("coat", "fill"):
        yield "How much to pour out for this side, and when it is turned over, stands on the sheet."
    if row.deed in ("sand", "joints"):
        yield "Grits: see the sanding card."
    if row.deed in ("coat", "fill", "clean-up"):
        yield from (f"{line.title}: {line.text}" for line in plan.cautions if line.when == "coating")
    yield from _ticks(row, plan)


def _coat(row: TimetableStep, treatment: Treatment, step: TreatmentStep, plan: Plan) -> Iterator[str]:
    coat = plan.materials.coat_of(step.id)
    if coat is not None:
        mix = plan.materials.mix_of(coat)
        amount, up_to = poured_words(mix, plan.units), show_measured(mix.up_to_ml, plan.units)
        yield f"{plan.catalogue.finishes[coat.finish].title}: pour out {amount}, up to {up_to}."
    if row.next_from is None:
        return
    later = treatment.steps[treatment.steps.index(step) + 1 :]
    if all(one.finish is None for one in later):
        yield f"Leave it alone until {_clock(row.next_from)}."
        return
    # Where something is abraded before the next coat anyway, no coat comes too late.
    closes = "" if row.next_until is None or later[0].finish is None else f", not after {_clock(row.next_until)}"
    yield f"Next coat not before {_clock(row.next_from)}{closes}."


def _ticks(row: TimetableStep, plan: Plan) -> list[str]:
    """Return what falls due at the end of a stretch of work, or of the day that it ends."""
    return [tick.text for tick in plan.safety.ticks if tick.due == row.end and tick.row in (row.id, None)]


def _dry(row: TimetableStep) -> str:
    still = row.still_below_c is not None
    return "Do not touch, keep dust away." + (" The cold nights make it longer." if still else "")


def _add_alarms(event: Event, row: TimetableStep, plan: Plan) -> None:
    """Ring when cloths have to be dealt with: they catch fire by themselves."""
    for text in _ticks(row, plan):
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", _clean(text))
        alarm.add("trigger", timedelta(0), parameters={"RELATED": "END"})
        event.add_component(alarm)


# --- dates ------------------------------------------------------------------------------------------------------------


def _dates(plan: Plan) -> Iterator[Event]:
    for times in plan.timetable.pieces:
        piece = plan.piece_of(times)
        yield _date(plan, piece, "ready", times.ready, f"{piece.name}: ready for use")
        if times.deliver is not None:
            yield _date(plan, piece, "deliver", times.deliver, f"{piece.name}: deliver")
    latest = plan.timetable.latest_safe_start
    if latest is not None:
        words = f"Begin no later: {', '.join(piece.name for piece in plan.pieces)}"
        yield _date(plan, plan.pieces[0], "latest-start", latest, words)


def _date(plan: Plan, piece: PlannedPiece, what: str, moment: datetime, words: str) -> Event:
    event = _event(plan, _uid(piece, what, ""), moment, moment + _MOMENT, words)
    event.add("transp", "TRANSPARENT")
    return event


# --- an event ---------------------------------------------------------------------------------------------------------


def _event(plan: Plan, uid: str, start: datetime, end: datetime, words: str) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstart", _local(start, plan.shop.time_zone))
    event.add("dtend", _local(end, plan.shop.time_zone))
    event.add("summary", _clean(words))
    return event


def _uid(piece: PlannedPiece, what: str, stretch: str) -> str:
    """Return an identifier of what is done to a piece, whenever that is, and whatever is planned beside it."""
    known_by = "\n".join((piece.name, what, stretch))
    return f"{uuid.uuid5(_UIDS, known_by)}@finplan.invalid"


def _local(moment: datetime, zone: ZoneInfo) -> datetime:
    """Return a moment on the clock of the shop; in universal time where that clock shows it twice."""
    local = moment.astimezone(zone)
    twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return moment.astimezone(UTC) if twice else local


def _of(piece: PlannedPiece, plan: Plan) -> str:
    return f"{piece.name}, " if len(plan.pieces) > 1 else ""


def _clock(moment: datetime) -> str:
    return moment.strftime(_TO_THE_MINUTE)


def _clean(words: str, *, lines: bool = False) -> str:
    """Return words without what a text of a calendar may not hold: no control characters, no lines but our own."""
    kept = "\n" if lines else ""
    return "".join(letter if letter in kept or letter.isprintable() else " " for letter in words)
