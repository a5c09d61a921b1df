"""Old paint in a room: all of it is tested before any is disturbed, and cleaned up after before a coat is wet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from finplan.catalogue import Catalogue
from finplan.timetable.operation import After, Operation


def with_old_paint_first(found: Sequence[Operation], catalogue: Catalogue) -> tuple[Operation, ...]:
    """Return the operations of a piece, or of a set, with what its old coating asks of all of its items together.

    One result decides the job, so every item is tested before an old film is stripped or sanded. Neither is done, nor
    cleaned up after, while another item is coated: dust that holds lead stays in no coat, and sheeting is folded once.

    Parameters
    ----------
    found
        Those of its items, each of which waits for what comes before it in its item
    catalogue
        Which steps beside the coats disturb an old film
    """
    of_item: dict[str, list[Operation]] = {}
    for one in found:
        of_item.setdefault(one.item, []).append(one)
    tests = [one for one in found if one.deed == "test"]
    waits: dict[str, list[str]] = {after.id: [before.id] for before, after in pairwise(tests)}
    last_film = {
        item: film[-1] for item, own in of_item.items() if (film := [one for one in own if _is_film(one, catalogue)])
    }
    for item, own in of_item.items():
        begun = next((one for one in own if one.deed != "test"), None)
        if begun is not None and own[0].deed == "test":
            waits.setdefault(begun.id, []).append(tests[-1].id)
        coat = next((one for one in own if one.finish is not None), None)
        if coat is not None:
            waits.setdefault(coat.id, []).extend(one.id for other, one in last_film.items() if other != item)
    return tuple(_after(one, waits.get(one.id, ())) for one in found)


def _is_film(one: Operation, catalogue: Catalogue) -> bool:
    """Return whether an old film is disturbed by an operation, or is cleaned up after."""
    return one.deed == "wipe-down" or (one.extra is not None and catalogue.extra_steps[one.extra].disturbs_film)


def _after(one: Operation, waits: Sequence[str]) -> Operation:
    known = {after.id for after in one.after}
    more = tuple(After(name) for name in waits if name not in known)
    return replace(one, after=(*one.after, *more)) if more else one
