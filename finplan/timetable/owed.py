"""Clean-ups that are still owed: of a coat that is on, while its tool and cloths were not seen to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from finplan.timetable.operation import Operation


def owed_clean_ups(operations: Iterable[Operation], done: Mapping[str, datetime]) -> tuple[Operation, ...]:
    """Return the clean-ups that are owed: one for every tool, that of the coat it put on last.

    Parameters
    ----------
    operations
        All of a job, of all its pieces, without their clean-ups
    done
        When what is done ended, by id, clean-ups too

    Notes
    -----
    Cloths that are wet with oil can catch fire by themselves, so a clean-up is taken for done only where it is ticked,
    or where the same tool was cleaned of the same finish at the end of a coat or later: never since something else was
    done in between. A coat that nobody told of, which counts as done because a later step is, at the time of that one,
    was cleaned up after as it was put on.
    """
    operations = tuple(operations)
    followed = done_with_a_later(operations, done)
    last: dict[tuple[object, ...], tuple[datetime, Operation]] = {}
    cleaned: dict[tuple[object, ...], datetime] = {}
    for coat in operations:
        tail, on = coat.clean_up, done.get(coat.id)
        if tail is None:
            continue
        tool = tool_of(coat)
        at = done.get(tail.id)
        if at is not None:
            cleaned[tool] = max(at, cleaned.get(tool, at))
        elif on is not None and coat.id not in followed and (tool not in last or on >= last[tool][0]):
            last[tool] = (on, tail)
    return tuple(tail for tool, (on, tail) in last.items() if tool not in cleaned or cleaned[tool] < on)


def done_with_a_later(operations: Iterable[Operation], done: Mapping[str, datetime]) -> frozenset[str]:
    """Return what counts as done, or was done, at the time of a later one: when it really was nobody may know."""
    return frozenset(
        after.id
        for operation in operations
        for after in operation.after
        if operation.id in done and done.get(after.id) == done[operation.id]
    )


def tool_of(operation: Operation) -> tuple[object, ...]:
    """Return what coats, and their clean-ups, have in common that one clean-up can be for: finish, tool and thinner."""
    step = operation.step
    return (None if step is None else (step.finish, step.recipe.thin_pct), operation.method)


def goes_on(owed: Operation, coats: Iterable[Operation], starts: Mapping[str, int], first: int) -> bool:
    """Return whether a tool whose clean-up is owed is in use again from the first slot on: it is cleaned after that."""
    return any(
        coat.finish is not None and tool_of(coat) == tool_of(owed) and starts.get(coat.id, first + 1) <= first
        for coat in coats
    )
