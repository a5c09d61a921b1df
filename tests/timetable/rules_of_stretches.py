"""Rules of what may not be left: what dries on is taken off before a break, what smoulders is looked at again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from tests.timetable.read_back import HOUR, ReadBack, Work

_NEVER = datetime.max.replace(tzinfo=UTC)


class StretchRules(ReadBack):
    """What has to follow while somebody is there."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule of these, in words."""
        yield from self._what_may_not_lie()
        yield from self._looked_at_again()

    def _what_may_not_lie(self) -> Iterator[str]:
        """What dries on is taken off, and washed up after, in one stretch of somebody's work, and within its wait.

        Where nobody works for so long without a break it is not asked; of what was put on before it is due at once.
        """
        for row in self._rows_that_lie():
            begun = any(not work.rows for work in row)
            if all(not work.rows for work in row) or not self._has_a_stretch(row):
                continue
            for before, work in pairwise(row):
                wait = self.catalogue.extra_steps[before.operation.extra or ""].wait_h
                over = before.end + (wait.high if wait else 0) * HOUR
                over = min(over, self._break_after(before.end, row))
                if not work.rows or work.end <= over:
                    continue
                if not begun:
                    yield f"{work.name} ends at {work.end}, after {over}: {before.name} dries on"
                elif self._was_free_before(work, before):
                    yield f"{work.name} is due and waits until {work.start}"

    def _looked_at_again(self) -> Iterator[str]:
        """Where it has to be looked at again somebody is there: as long after as is asked, or after a break."""
        for row in self.attended:
            record = None if row.extra is None else self.catalogue.extra_steps[row.extra]
            if record is None or not record.watch_h or len(self.rows[row.id]) > 1:
                continue
            look = row.end + record.watch_h * HOUR
            last = row.end + record.watch_by_h * HOUR
            if not any(begins <= last and look <= ends for begins, ends in self.hours.anybody):
                yield f"nobody looks again at {row.id} after {row.end}"

    def _rows_that_lie(self) -> Iterator[list[Work]]:
        for works in self.items.values():
            row: list[Work] = []
            for work in works:
                extra = work.operation.extra
                lies = extra is not None and self.catalogue.extra_steps[extra].next_before_break
                if row or lies:
                    row.append(work)
                if row and not lies:
                    yield row
                    row = []

    def _has_a_stretch(self, row: list[Work], spare: timedelta = timedelta(0), *, torn_by_none: bool = False) -> bool:
        """Whether somebody works as long as a row takes; *torn_by_none*: while none who could begin it has a break."""
        needed = spare + timedelta(minutes=sum(work.operation.work_min for work in row))
        needed += sum((work.operation.wait_h * HOUR for work in row[:-1]), start=timedelta(0))
        skills = {work.operation.skill for work in row}
        able = [one.name for one in self.shop.people if skills <= set(one.skills)]
        breaks = self._own_breaks(row) if torn_by_none else []
        for begins, ends in (stretch for name in able for stretch in self.hours.people[name]):
            edges = [begins, *(one for one in breaks if begins < one < ends), ends]
            if any(end - start >= needed for start, end in pairwise(edges)):
                return True
        return False

    def _own_breaks(self, row: list[Work]) -> list[datetime]:
        """When anybody stops working who could begin a row."""
        skill = row[0].operation.skill
        able = [one.name for one in self.shop.people if skill in one.skills]
        return sorted({ends for name in able for _, ends in self.hours.people[name]})

    def _break_after(self, moment: datetime, row: list[Work]) -> datetime:
        """Return by when a row is over that goes on then: so long before a break that a slow hand is in time."""
        spare = max(self.catalogue.extra_steps[work.operation.extra or ""].spare_h for work in row) * HOUR
        if not self._has_a_stretch(row, torn_by_none=True):
            return next((ends for _, ends in self.hours.anybody if moment <= ends), _NEVER)
        kept_free = spare if self._has_a_stretch(row, spare, torn_by_none=True) else timedelta(0)
        return next((ends - kept_free for ends in self._own_breaks(row) if moment <= ends), _NEVER)

    def _was_free_before(self, work: Work, before: Work) -> bool:
        """Whether whoever does what is due does something else first that is not due, or nothing."""
        due = {one.name for row in self._rows_that_lie() if any(not one.rows for one in row) for one in row}
        person = work.rows[0].person or ""
        ready = max(before.end + before.operation.wait_h * HOUR, self.planned.now)
        taken = [row for row in self.attended if row.person == person and (row.id in due or row.deed == "clean-up")]
        length = timedelta(minutes=work.operation.work_min)
        start = ready
        while start < work.start:
            clash = any(row.start < start + length and start < row.end and row.id != work.name for row in taken)
            if not clash and self.hours.works(person, start, start + length):
                return True
            start += self.planned.slot
        return False
