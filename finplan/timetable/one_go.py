"""Coats that by the plan go on in one go with another, and what is cleaned between them where they do not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from finplan.scheduling import Scheduled
from finplan.timetable.operation import Operation
from finplan.timetable.taken import Draws, Which

_SAME = 1e-9
"""Moments that differ by less are the same. [min]"""


class OneGo:
    """The coats that go on in one go with another, in a plan that is lived through."""

    def __init__(
        self,
        order: Sequence[tuple[Operation, Scheduled]],
        schedule: Mapping[str, Scheduled],
        ends: Mapping[str, Draws],
        *,
        on_the_clock: bool,
    ) -> None:
        """Look for them in a plan.

        Parameters
        ----------
        order
            What is done and when, in the order of the plan
        schedule
            The plan
        ends
            By operation, when it was over in every draw, once it was lived through. [min]
        on_the_clock
            As for ``Life``
        """
        self._ends, self._on_the_clock = ends, on_the_clock
        self._goes_on = dict(_in_one_go(order, schedule))

    def cleaned_before(self, operation: Operation, start: Draws, draws: Which) -> Draws:
        """Return starts in some draws, where a tool is cleaned in between moved behind that."""
        before = self._goes_on.get(operation.id)
        if before is None or before.clean_up is None:
            return start
        ended = self._ends[before.id][draws]
        return np.where(self._apart(before, start, ended), np.maximum(start, ended + before.clean_up.work_min), start)

    def cleaned_between(
        self, operation: Operation, start: Draws, who: Mapping[str, Which]
    ) -> Iterator[tuple[int, Draws, Draws, Which]]:
        """Give who cleans from when to when in which draws, before what is begun then; *who* did each, by draw."""
        before = self._goes_on.get(operation.id)
        if before is None or before.clean_up is None:
            return
        ended, by = self._ends[before.id], who[before.id]
        apart = self._apart(before, start, ended) & np.isfinite(ended)
        for person in np.unique(by[apart]).tolist():
            mine = np.flatnonzero(apart & (by == person))
            yield person, ended[mine], ended[mine] + before.clean_up.work_min, mine

    def _apart(self, before: Operation, start: Draws, ended: Draws) -> NDArray[np.bool_]:
        """Return where a coat begins too late to be in one go with the one before, whose tool is cleaned in between."""
        waits_min = 0 if self._on_the_clock or before.clean_up is None else before.clean_up.work_min
        apart: NDArray[np.bool_] = start > ended + waits_min + _SAME
        return apart


def _in_one_go(
    order: Sequence[tuple[Operation, Scheduled]], schedule: Mapping[str, Scheduled]
) -> Iterator[tuple[str, Operation]]:
    """Give the coats that by the plan go on in one go with another, by name with that other."""
    ends = {
        (planned.end, planned.mode, operation.finish or "", operation.method): operation
        for operation, planned in order
        if operation.finish is not None and operation.clean_up is not None and operation.clean_up.id not in schedule
    }
    for operation, planned in order:
        before = ends.get((planned.start, planned.mode, operation.finish or "", operation.method))
        if before is not None:
            yield operation.id, before
