"""A plan as a calendar file: work, drying and dates as events that a later plan moves instead of doubling them."""

from __future__ import annotations

import unicodedata
import uuid
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event, vText

from finplan.buying import trips_of
from finplan.calendar.text import CalendarText
from finplan.calendar.time_zone import time_zone
from finplan.moments import show_moment
from finplan.planning import Plan, PlannedPiece
from finplan.showing import capital
from finplan.system import Treatment, TreatmentStep
from finplan.telling import (
    READY,
    LeftAlone,
    Names,
    at_delivery_words,
    helps,
    in_one_go,
    latest_start,
    left_alone,
    moved_words,
    ordering_told,
    ready_at,
    step_numbers,
)
from finplan.timetable import TimetableStep, steps_by_row

_UIDS = uuid.UUID("5f1f6a5e-6a0c-5d39-9c39-2f0b6c9d7a11")
"""A name space of our own, drawn once: identifiers made in it meet no others."""
_MOMENT = timedelta(minutes=15)
"""How long a date is shown, so that it can be seen between the others."""
_MORNING = time(9)
"""When orders are shown on their day: suppliers are there, and the day is still long."""
_NO_TEXT = ("Cc", "Cs", "Zl", "Zp")
"""Of Unicode: control characters, halves of a pair, ends of lines and of paragraphs. Source: RFC 5545, section 3.1."""


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
    moments += [
        moment for piece in plan.timetable.pieces for moment in (piece.ready, piece.deliver) if moment is not None
    ]
    if not moments:
        msg = "a plan without a step has no calendar"
        raise ValueError(msg)
    calendar = Calendar()
    calendar.add("prodid", f"-//finplan//finplan {plan.version}//EN")
    calendar.add("version", "2.0")
    calendar.add("name", vText(_clean(", ".join(piece.name for piece in plan.pieces))))  # else it is not escaped
    calendar.add_component(time_zone(plan.shop.time_zone, min(moments), max(moments)))
    for event in (*_steps(plan), *_helping(plan), *_dates(plan)):
        event.add("dtstamp", made.astimezone(UTC))
        event.add("sequence", issue)
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


# --- work and drying --------------------------------------------------------------------------------------------------


def _steps(plan: Plan) -> Iterator[Event]:
    text, names = CalendarText(plan), Names(plan)
    stretches: Counter[tuple[str, ...]] = Counter()
    stands = left_alone(plan)
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    goes = {go[0]: go for go in in_one_go(plan.timetable.steps)}
    told = {row for go in goes.values() for row in go[1:]}
    for row in plan.timetable.steps:
        what = tuple(_what(row, steps.get(row.id)))
        stretches[row.key, *what] += 1
        if row in told:
            continue
        go = goes.get(row, (row,))
        piece = plan.piece_of(row)
        uid = _uid(piece, *what, str(stretches[row.key, *what]))
        called = f"{_called(go)}{_of(piece, plan)}{names.of_go(go)}: {row.step}"
        event = _event(plan, uid, row.start, go[-1].end, called)
        event.add("location", _clean(row.room))
        if row.kind == "drying":
            event.add("transp", "TRANSPARENT")
            _describe(event, text.drying(row))
            closing = text.closing(row)
            if closing is not None:
                _ring_at(event, *closing)
        else:
            _describe(event, text.work(go))
            for words in dict.fromkeys(words for step in go for words in text.ticks(step)):
                _ring_at_the_end(event, words)
        yield event
        for step in go:
            if step.id in stands and stands[step.id].row == step:
                of_it = (*_what(step, steps.get(step.id)), "stands")
                stretches[step.key, *of_it] += 1
                yield _stands(plan, stands[step.id], (*of_it, str(stretches[step.key, *of_it])), names)


def _helping(plan: Plan) -> Iterator[Event]:
    """Give the events of who helps at a coat whose own work it is not: nothing else tells that person to come."""
    text, names = CalendarText(plan), Names(plan)
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    stretches: Counter[tuple[str, ...]] = Counter()
    for hand in helps(plan):
        row, piece = hand.row, plan.piece_of(hand.row)
        what = (*_what(row, steps.get(row.id)), "helps")
        stretches[row.key, *what] += 1
        called = f"{_called((row,))}{_of(piece, plan)}{names.of_row(row)}: {hand.person} helps at {row.step}"
        event = _event(plan, _uid(piece, *what, str(stretches[row.key, *what])), row.start, row.end, called)
        event.add("location", _clean(row.room))
        _describe(event, text.helping(hand))
        yield event


def _stands(plan: Plan, stands: LeftAlone, what: tuple[str, ...], names: Names) -> Event:
    """Return the event of what is left alone though no coat is on it."""
    row, piece = stands.row, plan.piece_of(stands.row)
    called = f"{_of(piece, plan)}{names.of_row(row)}: {stands.so[:1].lower()}{stands.so[1:]}"
    event = _event(plan, _uid(piece, *what), row.end, stands.until, called)
    event.add("location", _clean(row.room))
    event.add("transp", "TRANSPARENT")
    _describe(event, (f"{stands.caution} {show_moment(stands.until)}.",))
    return event


def _what(row: TimetableStep, of: tuple[Treatment, TreatmentStep] | None) -> Iterator[str]:
    """Give what a row is, whatever is planned beside its piece; *of*: the step that it belongs to."""
    yield from (row.item, row.kind, row.deed, row.side)
    if of is not None:
        treatment, step = of
        yield from (treatment.system, step.name)


def _describe(event: Event, lines: Iterable[str]) -> None:
    words = "\n".join(_clean(line) for line in lines)
    if words:
        event.add("description", words)


def _ring_at_the_end(event: Event, words: str) -> None:
    """Ring at the end of work: cloths catch fire by themselves, and cartridges are spent."""
    _ring(event, words, timedelta(0), {"RELATED": "END"})


def _ring_at(event: Event, moment: datetime, words: str) -> None:
    """Ring at a moment, in universal time as RFC 5545, section 3.8.6.3, asks."""
    _ring(event, words, moment.astimezone(UTC), {"VALUE": "DATE-TIME"})


def _ring(event: Event, words: str, trigger: datetime | timedelta, parameters: dict[str, str]) -> None:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _clean(words))
    alarm.add("trigger", trigger, parameters=parameters)
    event.add_component(alarm)


# --- dates ------------------------------------------------------------------------------------------------------------


def _dates(plan: Plan) -> Iterator[Event]:
    ready, moved = READY[plan.ready_for].lower(), moved_words(plan)
    for times in plan.timetable.pieces:
        piece = plan.piece_of(times)
        event = _date(plan, piece, "ready", ready_at(times), f"{piece.name}: {ready}")
        if moved is not None:
            _describe(event, (f"{moved.title}.", *moved.lines, *moved.ready))
        yield event
        if times.deliver is not None:
            event = _date(plan, piece, "deliver", times.deliver, f"{piece.name}: deliver")
            also = at_delivery_words((times,), plan)
            if also:
                _describe(event, (f"{capital(also)}.",))
            yield event
    called = ", ".join(piece.name for piece in plan.pieces)
    if plan.shop.suppliers:
        yield from _trips(plan, called)
    latest = latest_start(plan.timetable)
    if latest is not None:
        yield _date(plan, plan.pieces[0], "latest-start", latest, f"Begin no later: {called}")


def _trips(plan: Plan, called: str) -> Iterator[Event]:
    for number, (trip, told) in enumerate(zip(trips_of(plan), ordering_told(plan), strict=True)):
        moment = datetime.combine(trip.day, _MORNING, plan.shop.time_zone)
        event = _date(plan, plan.pieces[0], f"order-{number}", moment, f"Order for {called}")
        _describe(event, (told.line, *(f"Too late: {line}" for line in told.late)))
        yield event


def _date(plan: Plan, piece: PlannedPiece, what: str, moment: datetime, words: str) -> Event:
    event = _event(plan, _uid(piece, what), moment, moment + _MOMENT, words)
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


def _uid(piece: PlannedPiece, *what: str) -> str:
    """Return an identifier of what is done to a piece, whenever that is, and whatever is planned beside it."""
    known_by = "\n".join((piece.name, *what))
    return f"{uuid.uuid5(_UIDS, known_by)}@finplan.invalid"


def _local(moment: datetime, zone: ZoneInfo) -> datetime:
    """Return a moment on the clock of the shop; in universal time where that clock shows it twice."""
    local = moment.astimezone(zone)
    twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return moment.astimezone(UTC) if twice else local


def _called(go: Sequence[TimetableStep]) -> str:
    """Return the number of a step before what it is."""
    number = step_numbers(go)
    return f"{number}. " if number else ""


def _of(piece: PlannedPiece, plan: Plan) -> str:
    return f"{piece.name}, " if len(plan.pieces) > 1 else ""


def _clean(words: str) -> str:
    r"""Return words without what a text of a calendar may not hold: no control characters, and no ends of lines.

    >>> _clean("top\r\nATTACH:x")
    'top  ATTACH:x'
    """
    return "".join(" " if unicodedata.category(letter) in _NO_TEXT else letter for letter in words)
