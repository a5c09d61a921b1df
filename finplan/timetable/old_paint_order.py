"""Old coatings: tested before any is disturbed, cleaned up after before a coat is wet, hot air over before spirit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from finplan.catalogue import Catalogue
from finplan.timetable.operation import After, Operation


def with_old_paint_first(operations: Sequence[Operation], catalogue: Catalogue) -> tuple[Operation, ...]:
    """Return the operations of a piece, or of a set, with what its old coating asks of all of its items together.

    One result decides the job, so every item is tested before an old film is stripped or sanded. Neither is done, nor
    cleaned up after, while another item is coated: dust that holds lead stays in no coat, and sheeting is folded once.
    Nor is a liquid that burns opened until the wait after hot air on the other items is over; what an item gets before
    its own hot air is over by then.

    Parameters
    ----------
    operations
        Those of its items, each of which waits for what comes before it in its item
    catalogue
        Which steps beside the coats disturb an old film
    """
    of_item: dict[str, list[Operation]] = {}
    for operation in operations:
        of_item.setdefault(operation.item, []).append(operation)
    tests = [operation for operation in operations if operation.deed == "test"]
    waits: dict[str, list[str]] = {after.id: [before.id] for before, after in pairwise(tests)}
    last_film = {
        item: film[-1]
        for item, own in of_item.items()
        if (film := [operation for operation in own if _is_film(operation, catalogue)])
    }
    for item, own in of_item.items():
        begun = next((operation for operation in own if operation.deed != "test"), None)
        if begun is not None and own[0].deed == "test":
            waits.setdefault(begun.id, []).append(tests[-1].id)
        coat = next((operation for operation in own if operation.finish is not None), None)
        if coat is not None:
            waits.setdefault(coat.id, []).extend(disturbs.id for other, disturbs in last_film.items() if other != item)
    last_heat = {item: own[heated[-1]] for item, own in of_item.items() if (heated := _places(own, _is_hot))}
    for item, own in of_item.items():
        burns = _places(own, lambda known: _burns(known, catalogue))
        heated = _places(own, _is_hot)
        first = next((own[place] for place in burns if not heated or place > heated[-1]), None)
        if first is not None:
            waits.setdefault(first.id, []).extend(hot.id for other, hot in last_heat.items() if other != item)
    return tuple(_after(operation, waits.get(operation.id, ())) for operation in operations)


def _places(own: Sequence[Operation], is_so: Callable[[Operation], bool]) -> list[int]:
    return [place for place, operation in enumerate(own) if is_so(operation)]


def _is_hot(operation: Operation) -> bool:
    """Return whether somebody has to look again for what smoulders."""
    return operation.watch_h > 0


def _burns(operation: Operation, catalogue: Catalogue) -> bool:
    """Return whether a step beside the coats takes a liquid that burns."""
    liquids = () if operation.extra is None else catalogue.extra_steps[operation.extra].liquids
    return any(catalogue.solvents[name].flammable for name in liquids)


def _is_film(operation: Operation, catalogue: Catalogue) -> bool:
    """Return whether an old film is disturbed by an operation, or is cleaned up after."""
    return operation.deed == "wipe-down" or (
        operation.extra is not None and catalogue.extra_steps[operation.extra].disturbs_film
    )


def _after(operation: Operation, waits: Sequence[str]) -> Operation:
    known = {after.id for after in operation.after}
    more = tuple(After(name) for name in waits if name not in known)
    return replace(operation, after=(*operation.after, *more)) if more else operation
