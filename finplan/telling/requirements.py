"""What cannot be kept of a job that does not fit, in words: on the terminal and in the data alike."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.showing import show_duration, show_speed
from finplan.telling.objections import objection_words
from finplan.timetable import (
    AirObjects,
    AllDone,
    Clash,
    DateKept,
    HoursEnd,
    NobodyDoes,
    NoBooth,
    NoRoomFor,
    Obstacle,
    Requirement,
    SomebodyWorks,
    TimeFound,
)


def clashes_words(clashes: Sequence[Clash]) -> str:
    """Return what cannot be kept, one after the other."""
    return "; ".join(requirement_words(clash.requirement) for clash in clashes)


def requirement_words(requirement: Requirement) -> str:
    """Return what cannot be kept, with why."""
    match requirement:
        case DateKept():
            return _date(requirement)
        case AllDone():
            over = "" if requirement.hours is None else _hours_end(requirement.hours)
            stuck = "" if requirement.stuck is None else _stuck(requirement.stuck)
            return f"everything done within {requirement.weeks} weeks{over}{stuck}"
        case SomebodyWorks():
            return f"nobody works in the shop from {requirement.first:%Y-%m-%d} to {requirement.last:%Y-%m-%d}"
        case TimeFound():
            work = "; ".join(f"{item}: {', '.join(labels)}" for item, labels in requirement.work)
            finds = "find" if sum(len(labels) for _, labels in requirement.work) > 1 else "finds"
            return f"{work} {finds} no time: {_reason(requirement.reason)}"


def _date(date: DateKept) -> str:
    of_piece = "" if date.piece is None else f" {date.piece}"
    before = "" if date.begins is None else f", which is before work may begin ({date.begins:%Y-%m-%d %H:%M})"
    also = "".join(f", with {_obstacle(obstacle)}" for obstacle in date.with_)
    open_ = "" if date.proven else "; that no plan can is not proven"
    left_out = "" if date.all_tried else "; not all that may help was tried, which takes long"
    return f"deliver{of_piece} by {date.deliver:%Y-%m-%d %H:%M}{before}{also}{open_}{left_out}"


def _stuck(work: NoRoomFor) -> str:
    return f": {work.item}: {work.step} finds no room"


def _obstacle(obstacle: Obstacle) -> str:
    return {
        "rack": f"a rack of {obstacle.places} places and {obstacle.hooks} hooks",
        "one-room": f"sanding and wet coats in one room, {obstacle.room}",
        "lost-day": f"nobody at work on {obstacle.day}",
        "closed-days": "the closed days",
        "holidays": "the public holidays",
    }[obstacle.kind]


def _hours_end(hours: HoursEnd) -> str:
    return (
        f": nobody works after {hours.last:%Y-%m-%d %H:%M}, {show_duration(hours.worked_h)} from "
        f"{hours.first:%Y-%m-%d} on, and there is {show_duration(hours.needed_h)} of work, with times to dry between"
    )


def _reason(reason: NobodyDoes | NoBooth | AirObjects) -> str:
    match reason:
        case NobodyDoes():
            return f"nobody with hours in the shop does {reason.skill}"
        case NoBooth():
            return _no_booth(reason)
        case AirObjects():
            return objection_words(reason.objection)


def _no_booth(reason: NoBooth) -> str:
    least = show_speed(reason.least_m_s, reason.units)
    has = (
        "has no booth" if reason.has_m_s is None else f"has a booth of only {show_speed(reason.has_m_s, reason.units)}"
    )
    what = "isocyanate" if reason.isocyanate else "what burns"
    return (
        f"{what} is sprayed only in a booth whose air moves at {least} or faster, and {reason.room} {has}; brush or "
        "wipe it, have it sprayed in a shop that has one, or give the room its 'booth'"
    )
