"""The rows of a day: one stretch of somebody's work each, or one for several items that get the same in turn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from finplan.planning import Plan
from finplan.sheet.step_row import ItemLine, StepRow, lines_taken
from finplan.sheet.work import Work, Works
from finplan.telling import after_coat_words, as_before, each_words, in_one_go, step_numbers
from finplan.timetable import TimetableStep

_SEVERAL = 3
"""From so many on, items that get the same in turn share a row; of a set of alike pieces two do."""
_MOST = 12
"""No more items share a row: nobody finds his place among them."""
_LINES_OF_A_PAGE = 36
"""Of a row, so that it fits a page with the heads above it and the end of the day below."""
_IN_TURN = "One after the other with the same tool; clean up after the last."


class StepRows:
    """Makes the rows of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._works = Works(plan)

    def of(self, planned: Sequence[TimetableStep]) -> tuple[StepRow, ...]:
        """Return stretches of work as they are printed, by their start; of each person, like with like."""
        several_people = len({one.person for one in planned}) > 1
        people: dict[str | None, list[Work]] = {}
        for one in planned:
            people.setdefault(one.person, []).append(self._works.of(one, who=several_people))
        rows = [
            (works[0].planned.start, self._single(works[0]) if len(works) == 1 else self._several(works))
            for of_person in people.values()
            for works in _alike(of_person)
        ]
        return _told_once([row for _, row in sorted(rows, key=lambda pair: pair[0])])

    def _single(self, work: Work) -> StepRow:
        lines = (*work.own, *work.row.lines)
        then = None if work.run is None else work.run.after(work.planned.id)
        if then is not None:
            lines += (f"Then straight on to {self._works.names.of_row(then)}, same tool; clean up after the last.",)
        return replace(work.row, lines=lines, window=_window([work]))

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
        lines = rows[0].lines
        if alike:
            lines = (f"For each: {' '.join(alike)}", *lines)
        item, key, number = f"{len(works)} items", "" if rows[0].used else rows[0].key, rows[0].number
        if _of_one_set(works) and len({row.key for row in rows}) == 1 and not any(one.lines for one in items):
            item, items = self._works.name_of_go([work.planned for work in works]), ()
            key = f"{rows[0].key} {each_words(works[0].planned)}" if rows[0].used else rows[0].key
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
            items=items,
            window=_window(works),
            warnings=tuple(dict.fromkeys(warning for row in rows for warning in row.warnings)),
        )


def _window(works: Sequence[Work]) -> str:
    coats = [work.after for work in works if work.after is not None]
    return after_coat_words(coats) if coats else ""


def _told_once(rows: Sequence[StepRow]) -> tuple[StepRow, ...]:
    """Return the rows of a day; how a finish is put on is told where it comes first, and then only recalled."""
    told: dict[tuple[str, ...], str] = {}
    found = []
    for row in rows:
        before = told.get(row.how)
        if row.how and before is not None:
            row = replace(row, how=as_before(row.how, before))
        told.setdefault(row.how, row.start)
        found.append(row)
    return tuple(found)


def _alike(works: Sequence[Work]) -> Iterator[Sequence[Work]]:
    """Give the work of one person in turn, together what may share a row."""
    for _, together in groupby(works, key=lambda work: work.shared):
        same = list(together)
        size = _size(same) if len(same) >= (2 if _of_one_set(same) else _SEVERAL) else 1
        yield from (same[first : first + size] for first in range(0, len(same), size))


def _of_one_set(works: Sequence[Work]) -> bool:
    """Return whether it is the same on several of a set of alike pieces, one right after another."""
    return len(works) > 1 and len(in_one_go([work.planned for work in works])) == 1


def _size(works: Sequence[Work]) -> int:
    """Return how many items share a row, so that it fits a page and the rows are about equally long."""
    alike, row = _said_of_all(works), works[0].row
    safe = (" ".join(row.before), row.wear, " ".join(row.cautions), *row.ticks)
    shared = sum(map(lines_taken, (row.label, *safe, *row.how, *row.lines, " ".join(alike), _IN_TURN)))
    of_one = max(
        1 + bool(row.used) + sum(lines_taken(line) for line in work.own if line not in alike) for work in works
    )
    most = min(_MOST, max(1, (_LINES_OF_A_PAGE - shared) // of_one))
    return math.ceil(len(works) / math.ceil(len(works) / most))


def _said_of_all(works: Sequence[Work]) -> list[str]:
    return [line for line in works[0].own if all(line in work.own for work in works)]
