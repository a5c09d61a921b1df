"""Rules of the rooms in a timetable: dust, vapour and fire beside other work, and what is full or taken."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from itertools import pairwise, product

from finplan.timetable import TimetableStep
from tests.timetable.read_back import HOUR, Work
from tests.timetable.rules_of_work import WorkRules, pairs

_NEVER = datetime.max.replace(tzinfo=UTC)
_HANGING = ("turned", "square-leg", "rod", "moulding")
_DUSTY = ("sand", "joints", "abrade", "rub-out", "abrade-again")


class RoomRules(WorkRules):
    """What may not be beside other work."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule of these, in words."""
        yield from self._dust()
        yield from self._air_to_sand_in()
        yield from self._settling()
        yield from self._rack()
        yield from self._spraying()
        yield from self._old_paint()
        yield from self._isocyanate()
        yield from self._fire()
        yield from self._lathe()

    def _dust(self) -> Iterator[str]:
        drying = self.first_room("drying")
        for coat in self.coats:
            finish = self.finish(coat)
            free = self.dry(coat, (finish.dust_free_h or finish.touch_dry_h).typical, "surface")
            rooms = {drying, coat.rows[0].room if coat.rows else drying}
            for row in self.attended:
                if self.dusty(row) and row.room in rooms and row.end > coat.start and (not free or row.start < free):
                    yield f"{row.id} makes dust at {row.start} beside {coat.name}"

    def _air_to_sand_in(self) -> Iterator[str]:
        """Where the plan waits for air, nothing makes dust from when a thing is put on until so long after it."""
        for name, wait_h in self.timetable.air_waits_h.items():
            put_on, over = self.rows[name], self.planned.wishes.done.get(name)
            start, end = (put_on[0].start, put_on[-1].end) if put_on else (over, over)
            for row in self.attended:
                beside = row.id != name and row.room == self.first_room("sanding")
                vapour = start and end and start < row.end and row.start < end + wait_h * HOUR
                if beside and vapour and self.dusty(row):
                    yield f"{row.id} makes dust at {row.start}, in the vapour of {name}"

    def dusty(self, row: TimetableStep) -> bool:
        """Whether wood is sanded, or an old film scraped."""
        return row.deed in _DUSTY or (row.extra is not None and self.catalogue.extra_steps[row.extra].dusty)

    def _settling(self) -> Iterator[str]:
        """No coat is begun in the dust of sanding that ended before it, or where that gets to while it dries."""
        sanding, drying = self.first_room("sanding"), self.first_room("drying")
        wait_h = self.catalogue.work["let-dust-settle"].wait_h
        if wait_h is None or self.shop.rooms[sanding].extraction is not None:
            return
        dusty = [(row.id, row.end) for row in self.attended if self.dusty(row)]
        dusty += [(one.name, one.end) for one in self.works.values() if one.operation.makes_dust and not one.rows]
        for coat in self.coats:
            if not coat.rows or sanding not in (drying, coat.rows[0].room):
                continue
            for name, ended in dusty:
                if ended <= coat.start < ended + wait_h.typical * HOUR:
                    yield f"{coat.name} starts at {coat.start}, in the dust of {name}"

    def _rack(self) -> Iterator[str]:
        capacities = (self.shop.rack.places, self.shop.rack.hooks)
        changes: dict[int, list[tuple[datetime, int]]] = {0: [], 1: []}
        for coat in self.coats:
            fit = self.dry(coat, self.finish(coat).handle_h.typical)
            lifted = None if fit is None else self.hours.somebody_from(fit)
            following = [work.start for work in self.items[coat.piece, coat.operation.item][coat.place + 1 :][:1]]
            # Where nobody works any more it stays on the rack.
            until = min([one for one in (lifted, *following) if one is not None], default=_NEVER)
            for kind, need in enumerate(self._needs(coat)):
                amount = min(need, capacities[kind])
                changes[kind] += [(coat.start, amount), (until, -amount)]
        for kind, moves in changes.items():
            taken = 0
            for moment, amount in sorted(moves):
                taken += amount
                if taken > capacities[kind]:
                    yield f"{taken} of {capacities[kind]} {('places', 'hooks')[kind]} are taken at {moment}"

    def _needs(self, coat: Work) -> tuple[int, int]:
        """Return the places and the hooks that an item takes: an assembly hangs from one, loose parts as they are."""
        treatment = next(one for one in self.pieces[coat.piece].treatments if one.item == coat.operation.item)
        if len(treatment.parts) > 1:
            return 0, 1
        group = treatment.groups[0]
        return (0, group.count) if group.shape in _HANGING else (group.count, 0)

    def _spraying(self) -> Iterator[str]:
        sprayed = [row for row in self.attended if row.deed in ("coat", "fill") and self.sprayed(row)]
        for one, other in pairs(sprayed):
            if one.start < other.end and other.start < one.end:
                yield f"{one.id} and {other.id} are sprayed at once"
        by_hand = [row for row in self.attended if row.deed in ("coat", "fill") and not self.sprayed(row)]
        for one, other in product(sprayed, by_hand):
            if one.room == other.room and one.start < other.end and other.start < one.end:
                yield f"{other.id} is put on at {other.start} in the mist of {one.id}"

    def _old_paint(self) -> Iterator[str]:
        """Where an item is cleaned up after old paint, that follows at once on all work on it that makes dust.

        And nobody else is in the room meanwhile.
        """
        cleaned = {(row.key, row.item, row.start): row for row in self.attended if row.deed == "wipe-down"}
        items = {(row.key, row.item) for row in cleaned.values()}
        over = {(row.key, row.item): row.start for row in reversed(self.attended) if row.deed in ("coat", "fill")}
        over |= {(row.key, row.item): row.end for row in self.attended if row.deed == "sand"}
        if self.planned.wishes.done or self.planned.wishes.lost_day is not None:
            return
        for name, rows in self.rows.items():
            if not rows or (rows[0].key, rows[0].item) not in items or rows[0].deed not in _DUSTY:
                continue
            last = rows[-1]
            if last.start >= over.get((last.key, last.item), last.end):
                continue  # dust of new coats, or of grain that was raised
            found = cleaned.get((last.key, last.item, last.end))
            if found is None or found.person != last.person or self._day(rows[0].start) != self._day(found.end):
                yield f"{name} is not cleaned up after at once, on the day on which it is begun"
            yield from (other for row in rows for other in self._beside(row))
        yield from (other for row in cleaned.values() for other in self._beside(row))

    def _day(self, moment: datetime) -> date:
        return moment.astimezone(self.shop.time_zone).date()

    def _beside(self, row: TimetableStep) -> Iterator[str]:
        """Nobody else works in the room in which somebody is to be alone."""
        for other in self.attended:
            beside = other.room == row.room and other.person != row.person
            if beside and other.start < row.end and row.start < other.end:
                yield f"{other.person} is beside {row.id} at {max(row.start, other.start)}: {other.id}"

    def _isocyanate(self) -> Iterator[str]:
        """Nobody else works in the room in which what is set by isocyanate is put on, or cleaned off tools."""
        finishes = self.catalogue.finishes
        for row in self.attended:
            work = self.works.get(row.id.removesuffix("/clean-up"))
            step = None if work is None else work.operation.step
            finish = step.finish if step is not None and row.deed in ("coat", "fill", "clean-up") else None
            if finish is not None and finishes[finish].hazards.isocyanate:
                yield from self._beside(row)
                yield from self._carried_through(row)

    def _carried_through(self, reacts: TimetableStep) -> Iterator[str]:
        """Nobody comes into that room to fetch what dried there, nor with what is to dry there."""
        if self.first_room("drying") != reacts.room:
            return
        for works in self.items.values():
            for before, work in pairwise(works):
                starts = [row for row in work.rows if row.room != reacts.room][:1] if before in self.coats else []
                if any(reacts.start <= row.start < reacts.end for row in starts):
                    yield f"{work.name} is fetched at {work.start} out of where {reacts.id} is done"
        for coat in self.coats:
            last = coat.rows[-1] if coat.rows else None
            if last is not None and last.room != reacts.room and reacts.start <= last.end < reacts.end:
                yield f"{coat.name} is carried in at {last.end} where {reacts.id} is done"

    def _lathe(self) -> Iterator[str]:
        """At the one lathe of a shop stands one person at a time."""
        turned = [row for row in self.attended if row.id in self.works and self.works[row.id].operation.on_lathe]
        for one, other in pairs(turned):
            beside = one.person != other.person and one.start < other.end and other.start < one.end
            if self.shop.lathes == 1 and beside:
                yield f"{one.person} and {other.person} are at the lathe at once: {one.id} and {other.id}"

    def _fire(self) -> Iterator[str]:
        """No liquid that burns is open beside hot air on another item of its piece or room, till its wait is over."""
        steps, liquids = self.catalogue.extra_steps, self.catalogue.solvents
        beside = [(row, steps[row.extra]) for row in self.attended if row.extra is not None]
        burning = [row for row, record in beside if any(liquids[name].flammable for name in record.liquids)]
        burning += [row for coat in self.coats if self.finish(coat).hazards.flammable for row in coat.rows]
        irons = [row for row, record in beside if "hot-tool" in record.dangers]
        for hot, row in ((hot, row) for hot in irons for row in (*burning, *self._cleaned_with_what_burns())):
            if row.room == hot.room and row.start < hot.end and hot.start < row.end:
                yield f"{row.id} opens what burns at {row.start}, beside an iron until {hot.end}: {hot.id}"
        for hot, record in ((row, record) for row, record in beside if record.watch_h):
            for row in burning:
                other = (row.key, row.item) != (hot.key, hot.item) and (row.key == hot.key or row.room == hot.room)
                if other and row.start < hot.end + record.watch_h * HOUR and hot.start < row.end:
                    yield f"{row.id} opens what burns at {row.start}, beside hot air until {hot.end}: {hot.id}"

    def _cleaned_with_what_burns(self) -> Iterator[TimetableStep]:
        finishes, liquids = self.catalogue.finishes, self.catalogue.solvents
        for row in self.attended:
            work = self.works.get(row.id.removesuffix("/clean-up")) if row.deed == "clean-up" else None
            step = None if work is None else work.operation.step
            cleaner = liquids.get(finishes[step.finish].clean_up_solvent or "") if step and step.finish else None
            if cleaner is not None and cleaner.flammable:
                yield row
