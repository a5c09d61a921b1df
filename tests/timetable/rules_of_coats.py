"""Rules of the coats in a timetable: what each waits for, how long it may wait, the air it is put on in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from finplan.catalogue import Finish
from tests.timetable.own_air import is_dewy
from tests.timetable.read_back import HOUR, ReadBack, Work


class CoatRules(ReadBack):
    """What waits for a coat and what a coat waits for."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule of these, in words."""
        yield from self._waits()
        yield from self._windows()
        yield from self._air_of_coats()
        yield from self._clean_ups()

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
        hours, phase = self.until_next_h(coat)
        return self.is_dry(coat, hours, work.start, phase)

    def until_next_h(self, coat: Work) -> tuple[float, str]:
        """Return how long a coat is left alone, by what comes on its faces next, and in which phase that is."""
        finish = self.finish(coat)
        above = [
            work
            for work in self.items[coat.piece, coat.operation.item][coat.place + 1 :]
            if not work.faces.isdisjoint(coat.faces) and work.operation.step is not coat.operation.step
        ]
        if above and above[0].operation.deed == "rub-out":
            return self.fit_h(finish, "cure")
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
                hours, slack = finish.film.through_dry_h.typical, self.air.tolerance(finish)
                cold, may_be = (self._too_cold(coat, finish.film.above_c, hours * by) for by in (1, 1 + 2 * slack))
                dries = next((row for row in self.timetable.steps if row.id == f"{coat.name}/dry"), None)
                told = dries is not None and dries.film_fails_below_c is not None
                if cold and finish.film.otherwise == "refuse":
                    yield f"the film of {coat.name} does not form"
                elif told not in (cold, may_be):
                    yield f"{coat.name} is told to form a film or not, wrongly"
            free = self.dry(coat, (finish.dust_free_h or finish.touch_dry_h).typical, "surface") if coat.rows else None
            if free is not None and any(is_dewy(*air) for air in set(self.air.between(coat.start, free))):
                yield f"dew may fall on {coat.name} before it is dust-free"

    def _too_cold(self, coat: Work, above_c: float, hours: float) -> bool:
        """Whether it gets too cold for the film of a coat before it has dried for so long."""
        formed = self.dry(coat, hours)
        return formed is not None and any(air[0] < above_c for air in set(self.air.between(coat.start, formed)))

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

    def fit_h(self, finish: Finish, wanted: str) -> tuple[float, str]:
        """Return how long a coat dries until it is fit for what is wanted, and in which phase."""
        hard = finish.light_use_h if wanted == "light-use" else finish.cure_h or finish.light_use_h
        if wanted == "handle" or hard is None:
            return finish.handle_h.typical, "through"
        return hard.typical, "hardening"


def _alike(one: Work, other: Work) -> bool:
    """Whether tools need no cleaning between two coats."""

    def tin(work: Work) -> tuple[object, ...]:
        step = work.operation.step
        return work.operation.finish, work.operation.method, None if step is None else step.recipe.thin_pct

    return tin(one) == tin(other)
