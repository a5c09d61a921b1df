"""The whole of a plan, a line a day: who works when on what, how much goes on, and what is left alone between."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import groupby

from finplan.listing import listed
from finplan.moments import not_before, show_clock, show_day, show_moment
from finplan.planning import Plan
from finplan.showing import capital
from finplan.telling.after_coat import PUTS_ON
from finplan.telling.dates import READY, ready_at
from finplan.telling.delivery import at_delivery_words
from finplan.telling.helping import Helping, at_step, helps
from finplan.telling.mixing import Mixing, is_weighed
from finplan.telling.names import Names, mark_of
from finplan.telling.next_work import NextWork
from finplan.telling.runs import runs_of_coats
from finplan.telling.sets import OfItem, names_together
from finplan.telling.step_words import mixed_together
from finplan.timetable import PieceTimes, TimetableStep, steps_by_row

_DELIVER = "deliver"
_FEW = 4
"""More items than these are counted, and more amounts than these are added up."""


@dataclass(frozen=True, slots=True)
class PersonsDay:
    """What one person does on a day."""

    who: str
    """With the hours."""
    jobs: str


@dataclass(frozen=True, slots=True)
class AgendaLine:
    """One day of work, or days on which nothing is done."""

    first: date
    last: date
    people: tuple[PersonsDay, ...]
    """None where nothing is done."""
    idle: str
    """Why nothing is done, and what is left alone; empty on a day of work."""
    amounts: str
    """What goes on, coat after coat; of very many coats finish after finish."""
    dates: tuple[str, ...]
    """What is ready and delivered."""

    @property
    def days(self) -> str:
        """The day or days, in words."""
        if self.first == self.last:
            return show_day(self.first)
        first, last = show_day(self.first), show_day(self.last)
        same_month = (self.first.month, self.first.year) == (self.last.month, self.last.year)
        return f"{first.rpartition(' ')[0] if same_month else first}–{last}"


def agenda_of(plan: Plan) -> tuple[AgendaLine, ...]:
    """Return a line for every day from the first of work to the last delivery; idle days that follow on share one."""
    attended = [row for row in plan.timetable.steps if row.kind == "attended"]
    if not attended:
        return ()
    by_day: dict[date, list[TimetableStep]] = {}
    for row in attended:
        by_day.setdefault(row.start.date(), []).append(row)
    dated = _dates(plan)
    first, last = min(by_day), max([*by_day, *dated])
    days = [first + timedelta(days=ahead) for ahead in range((last - first).days + 1)]
    lines: list[AgendaLine] = []
    teller = _Teller(plan)
    for key, together in groupby(days, key=lambda day: day if day in by_day else None):
        run = list(together)
        told = tuple(words for day in run for words in dated.get(day, ()))
        lines.append(teller.idle(run[0], run[-1], told) if key is None else teller.work(key, by_day[key], told))
    return tuple(lines)


def _dates(plan: Plan) -> dict[date, tuple[str, ...]]:
    """Return what is ready and what is delivered, by day; what is ready as its work ends is told with that."""
    events: dict[tuple[datetime, str], list[PieceTimes]] = {}
    for times in plan.timetable.pieces:
        events.setdefault((ready_at(times), READY[plan.ready_for].lower()), []).append(times)
        if times.deliver is not None:
            events.setdefault((times.deliver, _DELIVER), []).append(times)
    dates: dict[date, tuple[str, ...]] = {}
    for (moment, event), pieces in sorted(events.items(), key=lambda item: item[0][0]):
        marks = (mark_of(plan.piece_of(times), plan) for times in pieces)
        of_pieces = listed(mark for mark in marks if mark)
        words = f"{show_moment(moment)} {event} {of_pieces}".rstrip()
        also = at_delivery_words(pieces, plan) if event == _DELIVER else ""
        words += f" ({also})" if also else ""
        dates[moment.date()] = (*dates.get(moment.date(), ()), words)
    return dates


class _Teller:
    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._names = Names(plan)
        self._next = NextWork(plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._runs = runs_of_coats(plan)
        self._mixing = Mixing(plan.catalogue, plan.units)
        self._helps = helps(plan)

    def work(self, day: date, rows: Sequence[TimetableStep], dates: tuple[str, ...]) -> AgendaLine:
        people: dict[str, list[TimetableStep]] = {}
        for row in rows:
            people.setdefault(row.person or "", []).append(row)
        helping: dict[str, list[Helping]] = {}
        for hand in self._helps:
            if hand.row.start.date() == day:
                helping.setdefault(hand.person, []).append(hand)
        told = [
            PersonsDay(
                f"{show_clock(own[0].start)}–{show_clock(max(row.end for row in own))} {person}",
                ". ".join([self._jobs(own), *self._helped(helping.pop(person, []))]),
            )
            for person, own in people.items()
        ]
        told += [
            PersonsDay(f"{listed(hand.hours for hand in of_one)} {person}", ". ".join(self._helped(of_one)))
            for person, of_one in helping.items()
        ]
        return AgendaLine(day, day, tuple(told), "", self._amounts(rows), dates)

    def _helped(self, helping: Sequence[Helping]) -> list[str]:
        return [f"Helps{at_step(hand.row)}: {self._names.of_row(hand.row)}" for hand in helping]

    def idle(self, first: date, last: date, dates: tuple[str, ...]) -> AgendaLine:
        shop = self._plan.shop
        days = [first + timedelta(days=ahead) for ahead in range((last - first).days + 1)]
        works = any(shop.shifts(person, day) for day in days for person in shop.people)
        told = "No work." if works else "Nobody works."
        return AgendaLine(first, last, (), f"{told}{self._left_alone(first, last)}", "", dates)

    def _jobs(self, rows: Sequence[TimetableStep]) -> str:
        """Return what is done, what is alike together; never so that an item's own jobs stand in another order."""
        jobs: list[tuple[str, dict[str, OfItem[None]]]] = []
        last: dict[str, int] = {}
        """By item, the number of its last job so far: what comes on it stands behind that."""
        for row in rows:
            if row.deed == "clean-up":
                continue
            item, step = self._names.of_row(row), row.step
            first = last.get(item, 0)
            if self._in_portions(row):  # in turns with what comes after it: told once for all of them
                first, step = 0, self._steps[row.id][1].label
            number = next((n for n in range(first, len(jobs)) if jobs[n][0] == step), len(jobs))
            if number == len(jobs):
                jobs.append((step, {}))
            jobs[number][1][item] = self._names.of_item(row)
            last[item] = max(number, last.get(item, 0))
        return ". ".join(f"{capital(step)}: {_some(items.values())}" for step, items in jobs)

    def _in_portions(self, row: TimetableStep) -> bool:
        records = self._plan.catalogue.extra_steps
        return row.extra is not None and row.id in self._steps and records[row.extra].portion_m2 is not None

    def _amounts(self, rows: Sequence[TimetableStep]) -> str:
        """Return what goes on, in the order in which it does; of very many coats, of each finish all of it."""
        poured: list[str] = []
        of_finish: dict[str, float] = {}
        for row in {row.work: row for row in rows if row.deed in PUTS_ON}.values():
            _, step = self._steps[row.id]
            measured = self._plan.materials.measured_at(step.id, row.side)
            if measured is not None and step.finish is not None:
                mixed = mixed_together(self._runs.get(row.id), self._plan)
                poured.append(self._by_weight(step.finish, self._mixing.poured(measured, mixed=mixed)))
                taken = measured.mix.of_batch if mixed else measured.mix.decant
                whole_ml = (taken.volume_ml or 0.0) * measured.mix.batches
                of_finish[step.finish] = of_finish.get(step.finish, 0.0) + whole_ml
        if len(poured) > _FEW:
            finishes, least_ml = self._plan.catalogue.finishes, min(of_finish.values())
            poured = [
                self._by_weight(name, self._mixing.taken(ml, finishes[name], least_ml))
                for name, ml in of_finish.items()
            ]
        return _added(poured)

    def _by_weight(self, finish: str, amount: str) -> str:
        """Return an amount of a finish; ounces of a paste are told from the fluid ounces that stand around them."""
        weighed = self._plan.units == "us" and is_weighed(self._plan.catalogue.finishes[finish])
        return f"{amount} by weight" if weighed else amount

    def _left_alone(self, first: date, last: date) -> str:
        """Return what is not to be moved on days on which nothing is done, with a space before it; else nothing.

        What is fit when somebody comes on the first of them may be, as its day says.
        """
        midnight = datetime.combine(first, time(0), tzinfo=self._plan.shop.time_zone)
        begins = self._next.working(midnight)
        begins = begins if begins.date() == first else midnight
        wet: dict[str, datetime | None] = {}
        named: dict[str, OfItem[None]] = {}
        items: set[tuple[str, str]] = set()
        for row in self._plan.timetable.steps:
            if row.kind != "drying" or row.start.date() > last:
                continue
            if row.handle_from is None or row.handle_from > begins:
                name = self._names.of_row(row)
                wet[name], named[name] = row.handle_from, self._names.of_item(row)
                items.add((row.key, row.item))
        if not wet:
            return ""
        moments = [moment for moment in wet.values() if moment is not None]
        ends = [self._next.working(not_before(max(moments)))] if len(moments) == len(wet) else []
        # Oil is coated again before it is fit to handle. From the first work at any of them on, the days say the rest.
        ends += [row.start for row in self._plan.timetable.steps if _worked(row, items) and row.start.date() > last]
        until = f" before {show_moment(min(ends))}" if ends else ""
        return f" Do not move {_some(named.values())}{until}."


def _worked(row: TimetableStep, items: Collection[tuple[str, str]]) -> bool:
    return row.kind == "attended" and row.deed != "clean-up" and (row.key, row.item) in items


def _some(items: Collection[OfItem[None]]) -> str:
    """Return the names of items, those of a set as one; of very many how many there are."""
    names = names_together(items)
    return listed(names) if len(names) <= _FEW else f"{len(items)} items"


def _added(amounts: Sequence[str]) -> str:
    r"""Return amounts one after the other, the unit once where it is that of all.

    >>> _added(["75 ml", "125 ml"]), _added(["2 × 60 ml", "30 g"])
    ('75 + 125\xa0ml', '2 × 60 ml + 30 g')
    """
    parted = [words.replace("\u00a0", " ").partition(" ") for words in amounts]
    if len({unit for _, _, unit in parted}) != 1 or any("×" in words for words in amounts):
        return " + ".join(amounts)
    return f"{' + '.join(number for number, _, _ in parted)}\u00a0{parted[0][2]}"
