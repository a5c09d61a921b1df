"""Rules of the work in a timetable: all of it is done, by people who do it and are there, and in order."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from finplan.timetable import TimetableStep
from tests.timetable.read_back import ReadBack

_A_FEW_MINUTES = timedelta(minutes=20)
_ONE_STRETCH = ("coat", "fill", "clean-up", "glue-up", "wipe-down")


class WorkRules(ReadBack):
    """What is done, by whom, where and in which order."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule of these, in words."""
        yield from self._people()
        yield from self._order()

    def _people(self) -> Iterator[str]:
        people = {person.name: person for person in self.shop.people}
        deeds = dict(self.open())
        for row in self.attended:
            person = row.person or ""
            if row.start < self.planned.now:
                yield f"{row.id} starts before now"
            if row.start >= row.end or row.start.minute % 5 or row.start.second:
                yield f"{row.id} is a stretch from {row.start} to {row.end}"
            if person not in people or not self.hours.works(person, row.start, row.end):
                yield f"{person} does not work from {row.start} to {row.end} ({row.id})"
            skill = deeds[row.id].skill if row.id in deeds else None
            skill = "sanding" if row.deed == "abrade-again" else skill
            if skill is not None and person in people and skill not in people[person].skills:
                yield f"{person} does no {skill} ({row.id})"
            if row.room != self._room(row):
                yield f"{row.id} is done in {row.room}"
        for one, other in pairs(self.attended):
            if one.person == other.person and one.start < other.end and other.start < one.end:
                yield f"{one.person} does two things at {max(one.start, other.start)}"
        for name, rows in self.rows.items():
            yield from self._stretches(name, rows)

    def _stretches(self, name: str, rows: list[TimetableStep]) -> Iterator[str]:
        """Work is torn only by breaks, and what cannot pause by none, unless no stretch takes it with its clean-up."""
        if len(rows) < 2 or self.planned.wishes.lost_day is not None:
            return
        person = rows[0].person or ""
        worked = sum((row.end - row.start for row in rows), start=timedelta(0))
        if any(row.person != person for row in rows):
            yield f"{name} is begun by one and ended by another"
        if self.hours.worked(self.hours.people[person], rows[0].start, rows[-1].end) != worked:
            yield f"{name} is interrupted while {person} works"
        clean_up = self.works[name].operation.clean_up if name in self.works else None
        cleaned = timedelta(minutes=0 if clean_up is None else clean_up.work_min)
        extra = None if rows[0].extra is None else self.catalogue.extra_steps[rows[0].extra]
        one_stretch = rows[0].deed in _ONE_STRETCH or (extra is not None and extra.one_stretch)
        one_stretch = one_stretch or worked <= _A_FEW_MINUTES
        if one_stretch and self.hours.longest(person) >= worked + cleaned:
            yield f"{name} cannot pause and does"

    def _room(self, row: TimetableStep) -> str:
        """Return the room in which a row should be; where none is meant for it, the one next best."""
        use = {"glue-up": "assembly", "put-together": "assembly"}.get(row.deed, "sanding")
        if row.extra is not None:
            use = self.catalogue.extra_steps[row.extra].skill
        if row.deed in ("coat", "fill", "clean-up"):
            use = "spraying" if self.sprayed(row) else "coating"
        second = "sanding" if use == "assembly" else "coating"
        named = [name for wanted in (use, second) for name, room in self.shop.rooms.items() if wanted in room.for_]
        return [*named, *self.shop.rooms][0]

    def sprayed(self, row: TimetableStep) -> bool:
        method = self.works[row.id.removesuffix("/clean-up")].operation.method
        return method is not None and self.catalogue.methods[method].sprayed

    def _order(self) -> Iterator[str]:
        for (number, item), works in self.items.items():
            for before, after in pairwise(works):
                if after.rows and after.start < before.end:
                    yield f"{after.name} starts before {before.name} has ended"
            coated = [work.start for work in works if work.operation.finish is not None]
            for work in works:
                if (
                    work.rows
                    and work.operation.deed in ("sand", "glue-up", "joints", "mask")
                    and coated
                    and work.start >= min(coated)
                ):
                    yield f"{work.name} is done after the first coat"
            steps = [step.id for one in self.pieces[number].treatments if one.item == item for step in one.steps]
            mine = [work.operation.step.id for work in works if work.operation.step is not None]
            for treatment in self.pieces[number].treatments:
                ids = [step.id for step in treatment.steps]
                if treatment.item == item and list(dict.fromkeys(one for one in mine if one in ids)) != ids:
                    yield f"{item} does not follow the steps of {treatment.system}"
            if set(mine) != set(steps):
                yield f"{item} has other operations than its systems have steps"


def pairs(rows: list[TimetableStep]) -> Iterator[tuple[TimetableStep, TimetableStep]]:
    """Give the rows, in order of time, in pairs of which the second starts before the first has ended."""
    for index, one in enumerate(rows):
        for other in rows[index + 1 :]:
            if other.start >= one.end:
                break
            yield one, other
