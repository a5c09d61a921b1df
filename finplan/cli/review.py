"""A job looked back on, on the screen and as a page."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from textwrap import wrap

from finplan.cli.output import write_page
from finplan.cli.table import NOTE_WIDTH, told_tables
from finplan.ledger import HeldPlan, Ledger, lots_standing, plan_by_id, ticks_of
from finplan.planning import PlannedPiece
from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.record import Review, in_air_until, plan_maker, read_plan, review_of
from finplan.telling import review_told


def reviewed(ledger: Ledger, last: HeldPlan, pieces: tuple[PlannedPiece, ...], moment: datetime) -> Review:
    """Return a job looked back on, beside the plan by which it was begun: the first that was ticked, else the newest.

    Raises
    ------
    NotPossibleError
        Another version of finplan held that plan, and it cannot be read.
    """
    ticks = ticks_of(ledger, last.job)
    begun = next((tick.plan for tick in ticks if tick.plan is not None), None)
    held = (None if begun is None else plan_by_id(ledger, begun)) or last
    make = plan_maker(pieces, moment)
    plan = read_plan(ledger, held, make)
    if plan is None:
        msg = f"plan {held.number} was held by another version of finplan and cannot be read"
        raise NotPossibleError(msg)
    changed = plan.digest != held.made.digest
    latest = (None if last == held else read_plan(ledger, last, make)) or plan
    if ticks:
        latest = in_air_until(latest, ledger, last, max(tick.entered for tick in ticks))
    return review_of(plan, latest, held.made.at, ticks, lots_standing(ledger), changed=changed)


def review_lines(review: Review) -> list[str]:
    """Return a review for a person."""
    told = review_told(review)
    notes = [line for note in told.notes for line in wrap(note, NOTE_WIDTH)]
    lines = [told.name, "", *(line for text in told.lines for line in wrap(text, NOTE_WIDTH)), ""]
    lines += [*told_tables(told.tables), *notes]
    return lines if notes else lines[:-1]


def write_review(review: Review, output: Path, press: Press | None) -> str:
    """Write a review as a page and return what was written."""
    from finplan.review import review_html

    return write_page(review_html(review), output, press)
