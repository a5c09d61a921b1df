"""The rows of a day: one stretch of somebody's work each, or one for several items that get the same in turn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import Any

from finplan.planning import Plan
from finplan.sheet.step_row import ItemLine, StepRow, lines_in_row
from finplan.sheet.work import Work, Works
from finplan.showing import capital
from finplan.telling import each_words, in_one_go, latest_begin_words, step_numbers

_SEVERAL = 3
"""From so many on, items that get the same in turn share a row; of a set of alike pieces two do."""
_MOST = 12
"""No more items share a row: nobody finds his place among them."""
_LINES_OF_A_PAGE = 40
"""Of a row, so that it fits a page with the heads above it and the end of the day below."""
_IN_TURN = "One after the other with the same tool; clean up after the last."


class StepRows:
    """Makes the rows of one plan."""

    def __init__(self, works: Works, plan: Plan) -> None:
        self._works = works
        self._plan = plan

    def of(self, works: Sequence[Work]) -> tuple[StepRow, ...]:
        """Return the work of a session as it is printed, like with like."""
        return tuple(
            self._single(same[0]) if len(same) == 1 else self._several(same) for same in _alike(works, self._works)
        )

    def _single(self, work: Work) -> StepRow:
        lines = (*((work.way,) if work.way else ()), *work.own, *work.row.lines)
        then = None if work.run is None else work.run.after(work.planned.id)
        if then is not None:
            lines += (f"Then straight on to {self._works.names.of_row(then)}, same tool; clean up after the last.",)
        return replace(work.row, lines=lines, ticks=(*work.row.ticks, *work.due), **self._told([work]))

    def _several(self, works: Sequence[Work]) -> StepRow:
        rows = [work.row for work in works]
        alike = _said_of_all(works)
        items = tuple(
            ItemLine(
                row.number,
                f"{row.start}–{row.end}",
                row.item,
                row.key if row.used else "",
                tuple(line for line in work.own if line not in alike),
            )
            for work, row in zip(works, rows, strict=True)
        )
        way, lines = works[0].way, rows[0].lines
        if alike:
            lines = (f"For each: {' '.join(alike)}", *((way,) if way else ()), *lines)
        elif way:
            lines = (way, *lines)
        told, items = _told_together(works, items, self._works)
        lines = (*lines, *told)
        item, key, number = f"{len(works)} items", "" if rows[0].used else rows[0].key, rows[0].number
        if (
            _of_one_set(works)
            and len({row.key for row in rows}) == 1
            and not any(item_line.lines for item_line in items)
        ):
            item, items = self._works.name_of_go([work.planned for work in works]), ()
            key = (
                f"{rows[0].key} {each_words(several=self._works.names.of_several(works[0].planned))}"
                if rows[0].used
                else rows[0].key
            )
            number = step_numbers([work.planned for work in works])
        if works[0].run is not None:
            lines = (*lines, _IN_TURN)
        return replace(
            rows[0],
            end=rows[-1].end,
            item=item,
            key=key,
            number=number,
            critical=any(row.critical for row in rows),
            lines=lines,
            ticks=(*rows[0].ticks, *_due_in_turn(works)),
            items=items,
            **self._told(works),
            warnings=tuple(dict.fromkeys(warning for row in rows for warning in row.warnings)),
        )

    def _told(self, works: Sequence[Work]) -> dict[str, Any]:
        """Return what is told of the time: until when it may be begun, when it is dry, and what is done then."""
        rows = [work.planned for work in works]
        begins = all(work.begins for work in works)
        return {
            "latest": latest_begin_words(rows, self._plan) if begins else "",
            "below": self._works.next.below_words(rows, why=False) if begins else "",
            "window": self._works.next.words(rows),
        }


def _due_in_turn(works: Sequence[Work]) -> Iterator[str]:
    """Give what is due when one of several is done: in the midst of them with the one after which it is."""
    for work in works:
        number = f" (step {work.row.number})" if work.row.number else ""
        after = "" if work is works[-1] else f"After {work.row.item}{number}: "
        yield from (f"{after}{words}" for words in work.due)


def _told_together(
    works: Sequence[Work], items: Sequence[ItemLine], of_plan: Works
) -> tuple[tuple[str, ...], tuple[ItemLine, ...]]:
    """Return what is said of several items alike, once with their names, and the items without it."""
    same: dict[tuple[str, ...], list[Work]] = {}
    for work, item in zip(works, items, strict=True):
        if item.lines:
            same.setdefault(item.lines, []).append(work)
    shared = {lines: of_plan.names_of(alike) for lines, alike in same.items() if len(alike) > 1}
    told = tuple(f"{capital(names)}: {' '.join(lines)}" for lines, names in shared.items())
    return told, tuple(replace(item, lines=()) if item.lines in shared else item for item in items)


def _alike(works: Sequence[Work], of_plan: Works) -> Iterator[Sequence[Work]]:
    """Give work in turn, together what may share a row."""

    def shared(work: Work) -> tuple[object, ...]:
        after = of_plan.next.after(work.planned)
        return work.shared(after and (after.comes, after.abraded))

    for _, together in groupby(works, key=shared):
        same = list(together)
        size = _size(same) if len(same) >= (2 if _of_one_set(same) else _SEVERAL) else 1
        yield from (same[first : first + size] for first in range(0, len(same), size))


def _of_one_set(works: Sequence[Work]) -> bool:
    """Return whether it is the same on several of a set of alike pieces, one right after another."""
    return len(works) > 1 and len(in_one_go([work.planned for work in works])) == 1


def _size(works: Sequence[Work]) -> int:
    """Return how many items share a row, so that it fits a page and the rows are about equally long."""
    alike, row = _said_of_all(works), works[0].row
    safe = (row.wear, " ".join(row.cautions), *row.ticks)
    shared = sum(map(lines_in_row, (row.label, *safe, works[0].way, *row.lines, " ".join(alike), _IN_TURN)))
    of_one = max(
        1 + bool(row.used) + sum(lines_in_row(line) for line in work.own if line not in alike) for work in works
    )
    most = min(_MOST, max(1, (_LINES_OF_A_PAGE - shared) // of_one))
    return math.ceil(len(works) / math.ceil(len(works) / most))


def _said_of_all(works: Sequence[Work]) -> list[str]:
    return [line for line in works[0].own if all(line in work.own for work in works)]
