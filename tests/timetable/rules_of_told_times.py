"""What a timetable says of its coats and its pieces, against what they were found to be."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta

from finplan.reading import GivenDate
from finplan.timetable import TimetableStep
from tests.timetable.read_back import HOUR, Work
from tests.timetable.rules_of_coats import CoatRules

_FIELDS = {"handled": "handle_from", "touched": "alone_until"}


class ToldRules(CoatRules):
    """The times that are told."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule of these, in words."""
        yield from self._drying_rows()
        yield from self._times()

    def _drying_rows(self) -> Iterator[str]:
        dries = {row.id: row for row in self.timetable.steps if row.kind == "drying"}
        for coat in self.coats:
            if not coat.rows:
                continue
            finish, row = self.finish(coat), dries.get(f"{coat.name}/dry")
            if row is None or row.start != coat.end or row.room != self.first_room("drying"):
                yield f"the drying of {coat.name} is not in the timetable"
                continue
            told = {(one.next_from, one.next_until) for one in (*coat.rows, row)}
            opens, closes = row.next_from, row.next_until
            limit = finish.recoat_limit_h
            wanted = self.dry(coat, finish.recoat_h.typical)
            if (
                len(told) > 1
                or opens is None
                or wanted is None
                or not self.near(opens, wanted, finish, finish.recoat_h.typical)
            ):
                yield f"{coat.name} can be recoated from {wanted}, not {opens}"
            yield from self._left_alone(coat, row)
            last = self.air.closes(finish, coat.end)
            if (closes is None) != (last is None) or (
                closes and last and not self.near(last, closes, finish, limit.low if limit else 0.0)
            ):
                yield f"{coat.name} can be recoated until {last}, not {closes}"

    def _left_alone(self, coat: Work, row: TimetableStep) -> Iterator[str]:
        """A coat is told to be left alone until what comes next may be done to it, and dries until then."""
        finish = self.finish(coat)
        hours, phase = self.until_next_h(coat)
        if coat.name.endswith("/first-side"):
            hours, phase = finish.handle_h.typical, "through"
        elif coat.name.endswith("/second-side") and hours == finish.recoat_h.typical:
            hours = max(hours, finish.handle_h.typical)
        for name, moment, needed_h, needed in (
            ("handled", row.handle_from, finish.handle_h.typical, "through"),
            ("touched", row.alone_until, hours, phase),
        ):
            wanted = self.dry(coat, needed_h, needed)
            if (
                any(getattr(one, _FIELDS[name]) != moment for one in coat.rows)
                or moment is None
                or wanted is None
                or not self.near(moment, wanted, finish, needed_h)
            ):
                yield f"{coat.name} can be {name} from {wanted}, not {moment}"
        if row.end != row.alone_until:
            yield f"{coat.name} dries until {row.alone_until}, not {row.end}"

    def _times(self) -> Iterator[str]:
        told = self.timetable
        for number, (key, of_piece) in enumerate(zip(self.keys, told.pieces, strict=True)):
            mine = [row for row in self.attended if row.id.startswith(key)] if key else self.attended
            if mine and of_piece.start != min(row.start for row in mine):
                yield f"{of_piece.piece} does not start at {of_piece.start}"
            yield from self._ready(number, of_piece.ready)
            deliver = self._delivery(self.planned.deliveries[number])
            if of_piece.deliver != deliver:
                yield f"{of_piece.piece} is delivered at {of_piece.deliver}, not {deliver}"
            elif deliver is not None:
                if of_piece.ready > deliver:
                    yield f"{of_piece.piece} is ready after its delivery"
                working = self.hours.worked(self.hours.anybody, of_piece.ready, deliver)
                if of_piece.ready > deliver:
                    working = -self.hours.worked(self.hours.anybody, deliver, of_piece.ready)
                if of_piece.buffer_h != (deliver - of_piece.ready) / HOUR:
                    yield f"{of_piece.piece} has a buffer of {of_piece.buffer_h} h"
                if abs((of_piece.buffer_working_h or 0) - working / HOUR) >= self.planned.slot / HOUR:
                    yield f"{of_piece.piece} has a buffer of {of_piece.buffer_working_h} working hours, not {working}"
        if told.start != min(one.start for one in told.pieces):
            yield f"the plan does not start at {told.start}"
        dated = [one for one in told.pieces if one.buffer_h is not None]
        least_h = min((one.buffer_h or 0.0 for one in dated), default=None)
        tightest = [one for one in told.pieces if one.buffer_h == least_h]  # several may leave the same
        if (told.buffer_h, told.deliver) not in [(one.buffer_h, one.deliver) for one in tightest]:
            yield "the buffer told is not that of the tightest piece"
        if told.ready != max(one.ready for one in tightest):
            yield "ready is not when the last piece is"

    def _ready(self, number: int, ready: datetime) -> Iterator[str]:
        """A piece is ready when every coat is fit for the customer, those under others too, and all work has ended."""
        mine = [work for work in self.works.values() if work.piece == number]
        tight = any(work.end > ready - self.planned.slot for work in mine if work.rows)
        for work in mine:
            if work.end > ready:
                yield f"{work.name} ends after {ready}"
            if work.operation.finish is None:
                continue
            fit_h, phase = self.fit_h(self.finish(work), self.planned.wishes.ready_for)
            fit = self.dry(work, fit_h, phase)
            if fit is None or fit > ready + timedelta(seconds=1):
                yield f"{work.name} is not fit for the customer by {ready}"
            tight = tight or (fit is not None and self.near(ready, fit, self.finish(work), fit_h))
        if not tight:
            yield f"piece {number + 1} is ready before {ready}"

    def _delivery(self, deliver: GivenDate | None) -> datetime | None:
        """Return when a piece is delivered: on a day without a time, when work ends on such a day of the week."""
        if deliver is None:
            return None
        days = [person.hours for person in self.shop.people]
        closes = max((shift.end_min for hours in days for shift in hours[deliver.day.weekday()]), default=0)
        closes = closes or max((shift.end_min for hours in days for day in hours for shift in day), default=0)
        clock = deliver.clock or (time(closes // 60, closes % 60) if closes < 24 * 60 else time(23, 59))
        return datetime.combine(deliver.day, clock, tzinfo=self.shop.time_zone).astimezone(UTC)
