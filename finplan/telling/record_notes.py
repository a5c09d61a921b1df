"""What the record has to say beside what was asked, in words; each without a stop at its end."""

from __future__ import annotations

from finplan.listing import listed
from finplan.quantity import Units
from finplan.record import HeldNote, NothingLearnt, TickNote, UnfitAir
from finplan.showing import show_temperature
from finplan.spans import show_span


def tick_note_words(note: TickNote, units: Units) -> str:
    """Return what a tick does not teach, or that the air was not fit for what was put on."""
    match note:
        case UnfitAir():
            return _unfit(note, units)
        case NothingLearnt(why="liquid"):
            return f"nothing is learnt of how far {note.name.replace('-', ' ')} goes: the catalogue alone says"
        case NothingLearnt(why="in-part"):
            return "a coat was put on in part: nothing is learnt from its amount"
        case NothingLearnt(why="no-density"):
            return f"the density of {note.name} is not known: nothing is learnt from its weight"
        case NothingLearnt():
            return "nothing is learnt of how it dries: none of these is a coat that is ticked and waits for the next"


def _unfit(note: UnfitAir, units: Units) -> str:
    asked, wrong = note.finish.apply, []
    if note.temperature_c is not None:
        span = show_span(
            *(show_temperature(celsius, units) for celsius in (asked.temperature_c.low, asked.temperature_c.high))
        )
        wrong.append(f"{show_temperature(note.temperature_c, units)}, where {span} is asked for")
    if note.humidity_pct is not None:
        span = show_span(*(f"{percent:.0f} %" for percent in (asked.humidity_pct.low, asked.humidity_pct.high)))
        wrong.append(f"{note.humidity_pct:.0f} % humidity, where {span} is asked for")
    return (
        f"the air is not fit for {note.finish.title}: {' and '.join(wrong)}; when it is dry is a guess, try it on a "
        "place that nobody sees before it is worked, and bring the air right"
    )


def held_note_words(note: HeldNote) -> str:
    """Return why a held plan is not shown as it is."""
    match note.why:
        case "left-out":
            steps = f"step{'s' if len(note.steps) > 1 else ''} {listed(map(str, note.steps))}"
            again = f"{steps} {'are' if len(note.steps) > 1 else 'is'} to be done again"
            return f"{again}, which plan {note.plan} leaves out: the rest is planned again"
        case "other-version":
            return f"plan {note.plan} was held by another version of finplan and cannot be read: it is made anew"
        case "breaks-a-rule":
            return f"plan {note.plan} as it is held breaks what the shop asks ({note.rule}): it is made anew"
        case "planned-together":
            held = f"was planned together with {listed(note.others)}, and plan {note.plan} of all of them is held"
            return f"{held}: this is a look at it alone, held nowhere, with numbers of its own; --anew plans it apart"
