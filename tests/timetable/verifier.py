"""Checks a finished timetable against the shop file and the catalogue as a person would, rule by rule.

It shares no code with the program's model, calendar or climate; what waits for what it takes from the coating systems,
face by face.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta
from itertools import pairwise

from finplan.catalogue import Finish
from finplan.reading import GivenDate
from finplan.timetable import TimetableStep
from tests.timetable.own_air import is_dewy
from tests.timetable.read_back import HOUR, Planned, ReadBack, Work

_NEVER = datetime.max.replace(tzinfo=UTC)
_HANGING = ("turned", "square-leg", "rod", "moulding")
_BEFORE_COATS = ("sand", "glue-up", "joints", "mask")
_DUSTY = ("sand", "joints", "abrade", "rub-out", "abrade-again")
_FIELDS = {"handled": "handle_from", "touched": "alone_until"}
_ONE_STRETCH = ("coat", "fill", "clean-up", "glue-up", "wipe-down")


def broken_rules(planned: Planned) -> list[str]:
    """Return every rule that a timetable breaks."""
    return list(Verifier(planned).broken())


class Verifier(ReadBack):
    """The rules of a shop."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule, in words."""
        yield from self._everything_is_done_once()
        if any(not self.rows[name] for name, _ in self.open()):
            return
        yield from self._people()
        yield from self._order()
        yield from self._waits()
        yield from self._windows()
        yield from self._air_of_coats()
        yield from self._dust()
        yield from self._air_to_sand_in()
        yield from self._settling()
        yield from self._rack()
        yield from self._spraying()
        yield from self._clean_ups()
        yield from self._old_paint()
        yield from self._what_may_not_lie()
        yield from self._looked_at_again()
        yield from self._fire()
        yield from self._drying_rows()
        yield from self._times()

    # --- the rules --------------------------------------------------------------------------------------------------

    def _everything_is_done_once(self) -> Iterator[str]:
        known = {name: operation.work_min for name, operation in self.open()}
        put_on = (one for piece in self.pieces for one in piece.operations if one.id in self.planned.wishes.done)
        known |= {one.clean_up.id: one.clean_up.work_min for one in put_on if one.clean_up is not None}
        for name, operation in self.open():
            known |= {one.id: one.work_min for one in (operation.clean_up, operation.again) if one is not None}
            if not self.rows[name]:
                yield f"{name} is not in the timetable"
        for name, rows in self.rows.items():
            minutes = round(sum((row.end - row.start).total_seconds() for row in rows) / 60)
            if rows and name not in known:
                yield f"{name} is in the timetable and was not asked for"
            elif rows and minutes != known[name]:
                yield f"{name} takes {minutes} min instead of {known[name]}"

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
        for one, other in _pairs(self.attended):
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
        if one_stretch and self.hours.longest(person) >= worked + cleaned:
            yield f"{name} cannot pause and does"

    def _room(self, row: TimetableStep) -> str:
        """Return the room in which a row should be; where none is meant for it, the one next best."""
        use = {"glue-up": "assembly", "put-together": "assembly"}.get(row.deed, "sanding")
        if row.extra is not None:
            use = self.catalogue.extra_steps[row.extra].skill
        if row.deed in ("coat", "fill", "clean-up"):
            use = "spraying" if self._sprayed(row) else "coating"
        second = "sanding" if use == "assembly" else "coating"
        named = [name for wanted in (use, second) for name, room in self.shop.rooms.items() if wanted in room.for_]
        return [*named, *self.shop.rooms][0]

    def _sprayed(self, row: TimetableStep) -> bool:
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

    def _waits(self) -> Iterator[str]:
        for works in self.items.values():
            for place, work in enumerate(works[1:], start=1):
                before = works[place - 1]
                if not work.rows:
                    continue
                if before.operation.finish is None:
                    if work.start < before.end + before.operation.wait_h * HOUR:
                        yield f"{work.name} does not wait for {before.name}"
                    continue
                for coat in works[:place]:
                    if coat.operation.finish is not None and not self._waited(coat, before, work):
                        yield f"{work.name} starts at {work.start}, too soon after {coat.name}"
        for work in self.works.values():
            if work.operation.deed != "put-together" or not work.rows:
                continue
            for other in self.works.values():
                if other is work or other.piece != work.piece:
                    continue
                if other.operation.extra is not None and other.operation.item == work.operation.item:
                    if other.rows and other.start < work.end:
                        yield f"{other.name} is done before the piece is put together"
                    continue
                fit = other.operation.finish is None or self.is_dry(
                    other, self.finish(other).handle_h.typical, work.start
                )
                if other.end > work.start or not fit:
                    yield f"{work.name} is done before {other.name} is fit to handle"

    def _waited(self, coat: Work, before: Work, work: Work) -> bool:
        """Whether an operation waits long enough for a coat somewhere before it in its item."""
        finish = self.finish(coat)
        same_step = coat.operation.step is work.operation.step
        if same_step:  # the other side: the first has to be fit to handle
            return self.is_dry(coat, finish.handle_h.typical, work.start)
        if coat.operation.step is not before.operation.step:
            return True
        if (
            coat is before
            and coat.name.endswith("/second-side")
            and not self.is_dry(coat, finish.handle_h.typical, work.start)
        ):
            return False
        hours, phase = self._until_next_h(coat)
        return self.is_dry(coat, hours, work.start, phase)

    def _until_next_h(self, coat: Work) -> tuple[float, str]:
        """Return how long a coat is left alone, by what comes on its faces next, and in which phase that is."""
        finish = self.finish(coat)
        above = [
            work
            for work in self.items[coat.piece, coat.operation.item][coat.place + 1 :]
            if not work.faces.isdisjoint(coat.faces) and work.operation.step is not coat.operation.step
        ]
        if above and above[0].operation.deed == "rub-out":
            return self._fit_h(finish, "cure")
        more = any(work.operation.finish is not None for work in above)
        return (finish.recoat_h if more else finish.handle_h).typical, "through"

    def _windows(self) -> Iterator[str]:
        """No coat goes on one that has become too hard, unless that is abraded in between."""
        for coat in self.coats:
            if coat.name in self.planned.wishes.done:
                continue
            again = self.rows[f"{coat.name}/abrade"]
            if again and not (again[-1].end <= coat.start):
                yield f"{coat.name} starts before it is abraded again"
            for below in self._directly_below(coat):
                limit = self.finish(below).recoat_limit_h
                if again and again[0].start < below.end:
                    yield f"{coat.name} is abraded again before {below.name} is on"
                if limit is None or again:
                    continue
                closes = self.air.closes(self.finish(below), below.end)
                if closes is not None and coat.start > closes + timedelta(seconds=1):
                    yield f"{coat.name} comes after {closes} on {below.name}, which is too hard by then"

    def _directly_below(self, coat: Work) -> list[Work]:
        """Return the coats, one for each face, on which a coat goes with nothing abraded between."""
        found: dict[str, Work] = {}
        for face in coat.faces:
            before = [
                work
                for work in self.items[coat.piece, coat.operation.item][: coat.place]
                if face in work.faces and work.operation.deed != "raise-grain"
            ]
            if before and before[-1].operation.finish is not None:
                found[before[-1].name] = before[-1]
        return list(found.values())

    def _air_of_coats(self) -> Iterator[str]:
        for coat in self.coats:
            finish, limits = self.finish(coat), self.finish(coat).apply
            for row in coat.rows:
                for temperature_c, humidity_pct in set(self.air.between(row.start, row.end)):
                    if not (limits.temperature_c.low <= temperature_c <= limits.temperature_c.high):
                        yield f"{coat.name} is put on at {temperature_c} °C"
                    if not (limits.humidity_pct.low <= humidity_pct <= limits.humidity_pct.high):
                        yield f"{coat.name} is put on at {humidity_pct} % humidity"
            if finish.film is not None and coat.rows:
                formed = self.dry(coat, finish.film.through_dry_h.typical)
                cold = formed and any(air[0] < finish.film.above_c for air in set(self.air.between(coat.start, formed)))
                dries = next((row for row in self.timetable.steps if row.id == f"{coat.name}/dry"), None)
                told = dries is not None and dries.film_fails_below_c is not None
                if cold and finish.film.otherwise == "refuse":
                    yield f"the film of {coat.name} does not form"
                elif bool(cold) != told:
                    yield f"{coat.name} is told to form a film or not, wrongly"
            free = self.dry(coat, (finish.dust_free_h or finish.touch_dry_h).typical, "surface") if coat.rows else None
            if free is not None and any(is_dewy(*air) for air in set(self.air.between(coat.start, free))):
                yield f"dew may fall on {coat.name} before it is dust-free"

    def _dust(self) -> Iterator[str]:
        drying = self.first_room("drying")
        for coat in self.coats:
            finish = self.finish(coat)
            free = self.dry(coat, (finish.dust_free_h or finish.touch_dry_h).typical, "surface")
            rooms = {drying, coat.rows[0].room if coat.rows else drying}
            for row in self.attended:
                if self._dusty(row) and row.room in rooms and row.end > coat.start and (not free or row.start < free):
                    yield f"{row.id} makes dust at {row.start} beside {coat.name}"

    def _air_to_sand_in(self) -> Iterator[str]:
        """Where the plan waits for air, nothing makes dust from when a thing is put on until so long after it."""
        for name, wait_h in self.timetable.air_waits_h.items():
            put_on, over = self.rows[name], self.planned.wishes.done.get(name)
            start, end = (put_on[0].start, put_on[-1].end) if put_on else (over, over)
            for row in self.attended:
                beside = row.id != name and row.room == self.first_room("sanding")
                vapour = start and end and start < row.end and row.start < end + wait_h * HOUR
                if beside and vapour and self._dusty(row):
                    yield f"{row.id} makes dust at {row.start}, in the vapour of {name}"

    def _dusty(self, row: TimetableStep) -> bool:
        """Whether wood is sanded, or an old film scraped."""
        return row.deed in _DUSTY or (row.extra is not None and self.catalogue.extra_steps[row.extra].dusty)

    def _settling(self) -> Iterator[str]:
        """No coat is begun in the dust of sanding that ended before it, or where that gets to while it dries."""
        sanding, drying = self.first_room("sanding"), self.first_room("drying")
        wait_h = self.catalogue.work["let-dust-settle"].wait_h
        if wait_h is None or self.shop.rooms[sanding].extraction is not None:
            return
        dusty = [(row.id, row.end) for row in self.attended if self._dusty(row)]
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
        sprayed = [row for row in self.attended if row.deed in ("coat", "fill") and self._sprayed(row)]
        for one, other in _pairs(sprayed):
            if one.start < other.end and other.start < one.end:
                yield f"{one.id} and {other.id} are sprayed at once"

    def _old_paint(self) -> Iterator[str]:
        """Where an item is cleaned up after old paint, that follows at once on all work on it that makes dust."""
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
            if found is None or found.person != last.person or found.start.date() != found.end.date():
                yield f"{name} is not cleaned up after at once"

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
                over = min(over, self._break_after(before.end))
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
            last = look + record.watch_h * HOUR
            if not any(begins <= last and look <= ends for begins, ends in self.hours.anybody):
                yield f"nobody looks again at {row.id} after {row.end}"

    def _fire(self) -> Iterator[str]:
        """No liquid that burns is open beside hot air on another item of its piece, nor until its wait is over."""
        steps, liquids = self.catalogue.extra_steps, self.catalogue.solvents
        beside = [(row, steps[row.extra]) for row in self.attended if row.extra is not None]
        burning = [row for row, record in beside if any(liquids[name].flammable for name in record.liquids)]
        for hot, record in ((row, record) for row, record in beside if record.watch_h):
            for row in burning:
                of_other = row.key == hot.key and row.item != hot.item
                if of_other and row.start < hot.end + record.watch_h * HOUR and hot.start < row.end:
                    yield f"{row.id} opens what burns at {row.start}, beside hot air until {hot.end}: {hot.id}"

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

    def _has_a_stretch(self, row: list[Work]) -> bool:
        needed = timedelta(minutes=sum(work.operation.work_min for work in row))
        needed += sum((work.operation.wait_h * HOUR for work in row[:-1]), start=timedelta(0))
        skills = {work.operation.skill for work in row}
        able = [one.name for one in self.shop.people if skills <= set(one.skills)]
        return any(self.hours.longest(name) >= needed for name in able)

    def _break_after(self, moment: datetime) -> datetime:
        return next((ends for _, ends in self.hours.anybody if moment <= ends), _NEVER)

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

    def _clean_ups(self) -> Iterator[str]:
        followers: dict[str, Work] = {}
        followed = {coat.name for coat in self.coats if not coat.rows}
        for coat in sorted(self.coats, key=lambda one: one.start):
            if not coat.rows:
                continue
            person = coat.rows[-1].person
            cleaned = self.rows[f"{coat.name}/clean-up"]
            if cleaned:
                followed.add(coat.name)
                if cleaned[0].person != person or not coat.end <= cleaned[0].start < coat.end + self.planned.slot:
                    yield f"the clean-up of {coat.name} does not follow at once"
            for other in self.coats:
                at_once = other.rows and coat.end <= other.start < coat.end + self.planned.slot and other is not coat
                if not cleaned and at_once and other.rows[0].person == person and _alike(coat, other):
                    followed.add(coat.name)
                    followers[coat.name] = other
        for coat in self.coats:
            if coat.name not in followed:
                yield f"nothing is cleaned after {coat.name}"
            mix, last = self.finish(coat).mix, coat
            while last.name in followers:
                last = followers[last.name]
            lasts = None if mix is None else self.air.pot_life(self.finish(coat))
            if lasts is not None and last is not coat and last.end - coat.start > lasts:
                yield f"the mix of {coat.name} is used until {last.end}"

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
        hours, phase = self._until_next_h(coat)
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

    # --- what is told of the pieces ---------------------------------------------------------------------------------

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
            fit_h, phase = self._fit_h(self.finish(work), self.planned.wishes.ready_for)
            fit = self.dry(work, fit_h, phase)
            if fit is None or fit > ready + timedelta(seconds=1):
                yield f"{work.name} is not fit for the customer by {ready}"
            tight = tight or (fit is not None and self.near(ready, fit, self.finish(work), fit_h))
        if not tight:
            yield f"piece {number + 1} is ready before {ready}"

    def _fit_h(self, finish: Finish, wanted: str) -> tuple[float, str]:
        """Return how long a coat dries until it is fit for what is wanted, and in which phase."""
        hard = finish.light_use_h if wanted == "light-use" else finish.cure_h or finish.light_use_h
        if wanted == "handle" or hard is None:
            return finish.handle_h.typical, "through"
        return hard.typical, "hardening"

    def _delivery(self, deliver: GivenDate | None) -> datetime | None:
        """Return when a piece is delivered: on a day without a time, when work ends on such a day of the week."""
        if deliver is None:
            return None
        days = [person.hours for person in self.shop.people]
        closes = max((shift.end_min for hours in days for shift in hours[deliver.day.weekday()]), default=0)
        closes = closes or max((shift.end_min for hours in days for day in hours for shift in day), default=0)
        clock = deliver.clock or (time(closes // 60, closes % 60) if closes < 24 * 60 else time(23, 59))
        return datetime.combine(deliver.day, clock, tzinfo=self.shop.time_zone).astimezone(UTC)


def _alike(one: Work, other: Work) -> bool:
    """Whether tools need no cleaning between two coats."""

    def tin(work: Work) -> tuple[object, ...]:
        step = work.operation.step
        return work.operation.finish, work.operation.method, None if step is None else step.recipe.thin_pct

    return tin(one) == tin(other)


def _pairs(rows: list[TimetableStep]) -> Iterator[tuple[TimetableStep, TimetableStep]]:
    """Give the rows, in order of time, in pairs of which the second starts before the first has ended."""
    for index, one in enumerate(rows):
        for other in rows[index + 1 :]:
            if other.start >= one.end:
                break
            yield one, other
