"""What was ticked, taken back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from finplan.bench.ticked import Ticked, lacking_words, step_names
from finplan.ledger import HeldPlan, Ledger, ended_by_tick, lots_standing, numbers_of, take_back, ticks_of, undo_event
from finplan.listing import listed
from finplan.problems import NotPossibleError
from finplan.record import put_draws_right, steps_of
from finplan.system import work_id


def _sooner_words(steps: Sequence[str], still: Mapping[str, datetime], numbers: Mapping[str, int]) -> Iterator[str]:
    """Give that steps stay done by what was ticked before; who meant all of it takes that back as well."""
    ticked = [step for step in steps if step in still]
    if ticked:
        stay = "stays done" if len(ticked) == 1 else "stay done"
        yield (
            f"{listed(step_names(ticked, numbers))} {stay}, by what was ticked before this; "
            "where that is wrong too, take it back as well"
        )


def undone(ledger: Ledger, held: HeldPlan, steps: Sequence[str], moment: datetime) -> Ticked:
    """Take back the last entry of some steps.

    Raises
    ------
    NotPossibleError
        They are not ticked, or a clean-up that was ticked after them is.
    """
    numbers = numbers_of(ledger, held.job)
    wanted = steps_of(steps, numbers)
    ticks = ticks_of(ledger, held.job)
    entry = next((tick for tick in reversed(ticks) if set(wanted) & set(tick.steps)), None)
    if entry is None:
        msg = f"{', '.join(step_names(wanted, numbers))}: is not ticked, so there is nothing to take back"
        raise NotPossibleError(msg)
    still = ended_by_tick([tick for tick in ticks if tick is not entry])
    cleaned = {work_id(step, "clean-up") for step in entry.steps if step not in still} & still.keys()
    if cleaned and entry.kind == "done":
        msg = (
            f"{', '.join(step_names(sorted(cleaned), numbers))}: was ticked after that coat; take that back first, "
            "or the cloths of the coat that is put on again would be in no step"
        )
        raise NotPossibleError(msg)
    with ledger.changing():
        number = take_back(ledger, entry, moment)
        for event in (event for lot in lots_standing(ledger) for event in lot.events if event.tick == entry.id):
            undo_event(ledger, event, moment)
        put_draws_right(ledger, ticks_of(ledger, held.job), moment)
    planned = {row.step for row in held.made.rows}
    still = ended_by_tick(ticks_of(ledger, held.job))
    lacking = [step for step in entry.steps if step not in planned and step not in still]
    notes: tuple[str, ...] = (lacking_words(held, lacking, numbers),) if lacking and entry.kind == "done" else ()
    if entry.kind == "done":
        notes += tuple(_sooner_words(entry.steps, still, numbers))
    return Ticked(entry, number, step_names(entry.steps, numbers), taken_back=True, notes=notes)
