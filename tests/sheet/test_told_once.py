"""What a day tells of steps beside the coats: how they are done once, and of each how long and how much."""

from __future__ import annotations

from dataclasses import replace

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range, Units
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow
from finplan.sheet.told_before import told_once
from finplan.system import ExtraWork
from finplan.telling.extra_words import extra_own_lines

HOW = "Lay it on thick in one direction and leave it; cover it with film where it dries."
MIND = "Wet, by hand, misted as you go: no machine, no dry paper and no hot air."
OTHER = "Scrape flat faces with a blunt wide scraper along the grain, mouldings with pads."


def row(number: str, *lines: str, told_once: bool = True) -> StepRow:
    """Return a row with a caution, and how it is done."""
    return StepRow("08:00", "09:00", "case", "Strip", number=number, lines=lines, cautions=(MIND,), told_once=told_once)


def session(*rows: StepRow) -> WorkSession:
    """Return work of which nothing is told before it."""
    return WorkSession("shop", "Before you begin", (), (), (), (), (), rows)


def test_how_it_is_done_stands_at_the_first_step_of_a_day() -> None:
    """Whoever does it, and in whichever session; what is one item's own stays, as does all of other work."""
    coat = row("5", HOW, told_once=False)
    first, second = [session(row("1", "About 20 min.", HOW), row("2", OTHER)), session(row("3", HOW, OTHER))], [coat]
    of_people = told_once([first, [session(row("4", "About 9 min.", HOW), *second)]])
    told = [[(one.cautions, one.lines) for one in found.rows] for sessions in of_people for found in sessions]
    assert told == [
        [((MIND,), ("About 20 min.", HOW)), ((), (OTHER, "As at step 1."))],
        [((), ("As at steps 1 and 2.",))],
        [((), ("About 9 min.", "As at step 1.")), ((MIND,), (HOW,))],
    ]


def test_what_stands_before_a_session_is_not_told_again_before_the_next() -> None:
    """It was said at the first step of the session."""
    before = replace(session(row("1"), row("2")), cautions=(), way=(HOW,))
    ((_, again),) = told_once([[before, replace(before, rows=(row("3"), row("4")))]])
    assert again.way == ("As at step 1.",)


def test_a_step_says_how_long_and_how_much() -> None:
    """Its area at its speed and at how far a litre goes; of a day and more of work it speaks in hours."""
    catalogue = bundled_catalogue()
    rates = {"speed_m2_h": Range(0.25, 0.5, 1.0), "liquids": {"denatured-alcohol": Range(1.0, 2.0, 4.0)}}
    alone = {"handling_h": None, "each_h": None}
    record = catalogue.extra_steps["strip-chemical"].model_copy(update={**rates, **alone})

    def told(area_m2: float, units: Units = "metric") -> tuple[str, ...]:
        work = ExtraWork("case/strip", "strip-chemical", record, "case", area_m2, 1, 1)
        return extra_own_lines(work, catalogue, units)

    assert told(0.6) == ("About 72 min (36–144).", "Denatured alcohol: 300 ml (150–600 ml).")
    assert told(8.6) == ("About 17 h (8.6–34 h).", "Denatured alcohol: 4.3 L (2.2–8.6 L).")
    assert told(0.6, "us")[1] == "Denatured alcohol: 10 fl oz (5.1–20 fl oz)."
