"""Old paint that is sanded or scraped in goes, each of which leaves time to clean up after it before a break."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from finplan.catalogue import Catalogue
from finplan.timetable.operation import Operation, planned_minutes
from finplan.timetable.portions import portion


def in_goes(
    operations: Sequence[Operation], cleaned: Operation | None, longest_h: float, catalogue: Catalogue
) -> Iterator[Operation]:
    """Give operations on an item with what disturbs its old paint in goes, for whoever does it alone in the room.

    Parameters
    ----------
    operations
        Operations on the item, in their order
    cleaned
        How it is cleaned up after; None where nothing of it may hold lead, and nothing changes
    longest_h
        The longest stretch of work of anybody who does it. [h]
    catalogue
        Which steps beside the coats disturb an old film
    """
    for operation in operations:
        disturbs = operation.makes_dust or (
            operation.extra is not None and catalogue.extra_steps[operation.extra].disturbs_film
        )
        if cleaned is None or not disturbs:
            yield operation
        elif not operation.makes_dust:
            yield replace(operation, alone=True)
        else:
            whole = replace(operation, alone=True, one_stretch=True)
            left_min = longest_h * 60 - planned_minutes(cleaned.hours.high)
            goes = math.ceil(operation.work_min / left_min) if left_min > 0 else 1
            for number in range(1, goes + 1):
                yield from portion([whole], number, goes) if goes > 1 else [whole]
