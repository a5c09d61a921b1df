"""What a maker could change so that a job fits, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from finplan.inputs import Shift
from finplan.listing import listed
from finplan.moments import show_clock_min, show_day
from finplan.quantity import Units
from finplan.showing import show_area, show_duration, show_flow, show_temperature, show_warmer
from finplan.timetable import (
    BoothGiven,
    ByHand,
    FewerCoats,
    LaterDates,
    MoreHands,
    NeverColder,
    OtherSystem,
    PlannerStage,
    Remedy,
    StartNow,
    WarmerNights,
)

_DOING: dict[PlannerStage, str] = {
    "looking-back": "looking back from the delivery",
    "largest-buffer": "looking for the largest buffer",
    "piece-by-piece": "making it better a piece at a time",
}
_FEWER = {1: "one coat less", 2: "two coats less"}


def progress_words(doing: PlannerStage | Remedy) -> str:
    """Return what is being done while a job is planned; a remedy is being tried."""
    return _DOING[doing] if isinstance(doing, str) else f"trying: {remedy_words(doing)}"


def remedy_words(remedy: Remedy) -> str:
    """Return a change that a maker could make."""
    match remedy:
        case StartNow():
            return "start now"
        case WarmerNights():
            if remedy.night_c is None:
                return f"nights {show_warmer(remedy.degrees, remedy.units)} warmer"
            return f"keep {_held_at(remedy.night_c, remedy.units)} at night"
        case NeverColder():
            return f"keep at least {_held_at(remedy.lowest_c, remedy.units)} day and night"
        case MoreHands():
            return _more_hands(remedy)
        case BoothGiven():
            face, flow = show_area(remedy.face_m2, remedy.units), show_flow(remedy.flow_m3_h, remedy.units)
            return f"a spray booth in {remedy.room}, {face} of face drawing {flow}"
        case ByHand():
            return f"brushed or wiped instead of sprayed{_on(remedy.piece)}"
        case FewerCoats():
            return f"{_FEWER[remedy.coats]}{_on(remedy.piece)}"
        case OtherSystem():
            return f"system '{remedy.system}'{_on(remedy.piece)}{_differs(remedy)}"
        case LaterDates():
            told = [f"deliver{_of(piece)} on {moment:%Y-%m-%d %H:%M}" for piece, moment in remedy.dates]
            return f"{' and '.join(told)} or later"


def _on(piece: str | None) -> str:
    return "" if piece is None else f" on {piece}"


def _of(piece: str | None) -> str:
    return "" if piece is None else f" {piece}"


def _held_at(temperature_c: float, units: Units) -> str:
    """Return a temperature that is kept, in full: half a degree is one of the steps."""
    return f"{temperature_c:g} °C" if units == "metric" else show_temperature(temperature_c, units)


def _more_hands(more: MoreHands) -> str:
    who = "one more person" if more.person is None else f"{more.person} works"
    longer = f" {show_duration(more.longer_h)} longer" if more.longer_h else ""
    if isinstance(more.on, date):
        return f"{who}{longer} on {show_day(more.on)}, {_hours(more.shifts)}"
    if more.on == "each-day":
        return f"{who}{longer} each day"
    days = "Saturday" if more.on == "saturdays" or more.after is None else f"weekday after {show_day(more.after)}"
    return f"{who}{longer} on every {days}, {_hours(more.shifts)}"


def _hours(shifts: Sequence[Shift]) -> str:
    return " and ".join(f"{show_clock_min(shift.start_min)}–{show_clock_min(shift.end_min)}" for shift in shifts)


def _differs(other: OtherSystem) -> str:
    """Return in what a system differs from the one that it would stand in for; empty where in nothing that counts."""
    told = [
        *([] if other.family is None else [f"{other.family} instead"]),
        *([f"less proof against {listed(other.less)}"] if other.less else []),
        *(["holds isocyanate"] if other.isocyanate else []),
    ]
    return f" ({'; '.join(told)})" if told else ""
