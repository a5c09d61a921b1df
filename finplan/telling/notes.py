"""What a maker has to know of a plan that the shop cannot quite do, each in a sentence."""

from __future__ import annotations

from finplan.listing import number_of
from finplan.moments import not_after, show_moment
from finplan.showing import show_duration
from finplan.telling.dry_from import dry_from_words
from finplan.telling.work_names import work_name
from finplan.timetable import (
    AloneWithOldPaint,
    DriesOn,
    DryFrom,
    DustSettles,
    Interrupted,
    LearntTime,
    NoSprayRoom,
    Note,
    NotTaken,
    OwnTimesUsed,
    RackShort,
    Timetable,
    TooHard,
)


def notes_told(timetable: Timetable) -> tuple[str, ...]:
    """Return the notes of a timetable, each in a sentence."""
    return tuple(map(note_words, timetable.notes))


def note_words(note: Note) -> str:
    """Return a note in a sentence."""
    match note:
        case RackShort():
            wanted = number_of(note.wanted, note.of)
            return f"{note.item} takes {wanted} and the rack has {note.there}: find it others."
        case NoSprayRoom():
            return f"No room is for spraying: it is planned in {note.room}."
        case DustSettles():
            told = f"Wood is sanded where coats go on or dry, in {note.room}"
            settled = f"no coat is begun until dust has settled for {show_duration(note.wait_h)}"
            return f"{told}: {settled}. Source: {note.source}."
        case AloneWithOldPaint():
            return (
                f"Old paint is disturbed in {note.room}: whoever does that is alone there, and nothing else is planned "
                "in it until it is cleaned up."
            )
        case TooHard():
            return _too_hard(note)
        case Interrupted():
            cleaned = " and the cleaning up" if note.with_clean_up else ""
            told = f"{note.item}: {note.step} is interrupted by a break"
            return f"{told}: no stretch of {note.person} is long enough for it{cleaned}."
        case DriesOn():
            told = (
                f"{note.item}: {note.step} takes {show_duration(note.takes_h)} until it is off again, and nobody works"
            )
            return f"{told} for so long without a break: do less at a time, and leave none on over a break."
        case OwnTimesUsed():
            return f"Planned by this shop's own times: {'; '.join(map(_learnt, note.times))}."
        case DryFrom():
            return f"{dry_from_words(note)}."
        case NotTaken():
            return f"A plan that was found was not taken, since it breaks a rule: {note.rule}."


def _too_hard(note: TooHard) -> str:
    told = f"{note.item}: {note.coat} of {show_moment(note.put_on)} is too hard for"
    told += f" {note.next_coat} from {show_moment(not_after(note.since))}"
    return f"{told}: it is abraded first, which is planned." if note.abraded else f"{told}: abrade it first."


def _learnt(time: LearntTime) -> str:
    what = f"{time.finish} dries in" if time.of is None else work_name(time.of)
    noted = "found dry" if time.of is None else "timed"
    times = f"{time.times:.2g}"
    took = "what is reckoned" if times == "1" else f"{times} times what is reckoned"
    return f"{what} {took} ({time.count} {noted})"
