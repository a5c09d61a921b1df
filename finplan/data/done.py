"""What is ticked at the bench."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.bench import Ticked
from finplan.data.row import CountFromOne, NotNegative, WholeNumber, row
from finplan.inputs import LeadTest
from finplan.ledger import LearntKind, TickKind


@row
class DoneRow:
    """Tick.

    What is written down in the job's record, or taken back.
    """

    format: Literal["finplan-done/1"]
    """Says what this is."""
    entry: CountFromOne
    """The number of the entry in the record."""
    kind: TickKind
    """The steps were `done`, their coats were found `dry`, or an entry was taken back: `void`."""
    steps: tuple[str, ...]
    """The ids of the steps, as in the timetable."""
    named: tuple[str, ...]
    """The same by the numbers that they have on the sheet."""
    at: datetime
    """When it was so; of what was taken back, as that entry says."""
    person: str | None
    """Who did it; null where nobody is named and several work there."""
    used_ml: NotNegative | None
    """What was used of the finish, thinner included; null where that is not told, or its density is not known. [ml]"""
    reckoned_ml: NotNegative | None
    """What the coats should have taken by the plan; null where what was used is not told. [ml]"""
    result: LeadTest | None
    """What a test of an old coating came to: it holds `lead`, or is `clear` of it; null where that is not told."""
    learnt: tuple[LearntKind, ...]
    """What is learnt from it, for what is planned from now on."""
    left: WholeNumber
    """How many steps are still to be done; 0 too where an entry is taken back."""
    notes: tuple[str, ...]
    """What else there is to know of it, each a sentence without its stop."""


def done_data(told: Ticked) -> DoneRow:
    """Return what was written down, or taken back."""
    entry, written = told.entry, told.written
    return DoneRow(
        format="finplan-done/1",
        entry=told.number,
        kind="void" if written is None else entry.kind,
        steps=entry.steps,
        named=told.named,
        at=entry.at,
        person=entry.person,
        used_ml=None if written is None else written.used_ml,
        reckoned_ml=None if written is None else written.reckoned_ml,
        result=entry.result,
        learnt=tuple(sorted(entry.observed)),
        left=told.left,
        notes=told.notes,
    )
