"""The coats of a plan as what they set free: when, in which room, and how much of which solvent."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from finplan.catalogue import Catalogue, Finish
from finplan.material import CoatNeed, share_of_faces
from finplan.quantity import Range
from finplan.safety.emission import Emission, decay_hours, slowed_hours
from finplan.safety.liquids import LiquidUse, lifted_at, liquid_emissions, sets_free
from finplan.safety.solvents import UNKNOWN, Vapours, added_up, cleaner_of, parts_of, thinner_of
from finplan.system import (
    CoatStep,
    FaceGroup,
    Side,
    Treatment,
    TreatmentStep,
    groups_of_side,
    item_work,
    portions_of,
    steps_by_id,
)
from finplan.timetable import TimetableStep, coating_hours, drying_by_coat, hours_between

_LONGEST_H = 24.0 * 3650
"""What sets free for longer is so little on so small a face that no day can be named by which it is gone."""


@dataclass(frozen=True, slots=True)
class Emissions:
    """What a plan sets free, in hours after ``origin``; None where nothing has a place in time."""

    origin: datetime | None
    emissions: tuple[Emission, ...]
    before: tuple[Emission, ...] = ()
    """Of what was done before, which may still be in the air."""

    def in_room(self, room: str | None) -> list[Emission]:
        """Return all that is set free in a room, before the plan too."""
        return [emission for emission in (*self.before, *self.emissions) if emission.room == room]

    def clock(self, hours: float) -> datetime | None:
        """Return a moment of the emissions on the shop's clock; None where there is none, or only after many years."""
        if self.origin is None or hours > _LONGEST_H:
            return None
        return (self.origin.astimezone(UTC) + timedelta(hours=hours)).astimezone(self.origin.tzinfo)


@dataclass(frozen=True, slots=True)
class _Sprayed:
    """One stretch of putting on or cleaning. Times in h."""

    id: str
    room: str
    dries_in: str
    start_h: float
    end_h: float
    gone_h: float
    area_m2: float
    """How far it is spread; 0 where nothing is."""
    sprayed: bool
    at_booth: bool
    booth_asked: bool
    isocyanate: bool


class Coats:
    """Turns the coats of one plan into emissions."""

    def __init__(self, treatments: Sequence[Treatment], coats: Sequence[CoatNeed], catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._steps = steps_by_id(treatments)
        self._needs = {coat.step.id: coat for coat in coats}
        self._evaporation = catalogue.evaporation["coat"]

    # --- with a timetable -------------------------------------------------------------------------------------------

    def planned(self, rows: Sequence[TimetableStep], before: Sequence[TimetableStep] = ()) -> Emissions:
        """Return what the rows of a timetable set free.

        Parameters
        ----------
        rows
            The rows
        before
            What was done before them, likewise

        Notes
        -----
        A coat that a break interrupts sets free in each stretch what is put on in it. What dries in another room
        counts in both: while it is put on where that happens, and with what it still holds where it dries.
        """
        every = (*before, *rows)
        setting_free = [self._setting_free(before), self._setting_free(rows)]
        origin = min((row.start for steps in setting_free for row in steps), default=None)
        if origin is None:
            return Emissions(None, ())
        past, planned = (tuple(self._of_rows(steps, every, origin)) for steps in setting_free)
        return Emissions(origin, planned, past)

    def _setting_free(self, rows: Sequence[TimetableStep]) -> list[TimetableStep]:
        return [
            row
            for row in rows
            if row.kind == "attended" and (row.deed in ("coat", "fill", "clean-up") or sets_free(row, self._catalogue))
        ]

    def _of_rows(
        self, attended: Sequence[TimetableStep], rows: Sequence[TimetableStep], origin: datetime
    ) -> Iterator[Emission]:
        drying = drying_by_coat(rows)
        worked_h: dict[str, float] = {}
        for row in attended:
            worked_h[row.id] = worked_h.get(row.id, 0.0) + hours_between(row.start, row.end)
        for row in attended:
            share = hours_between(row.start, row.end) / worked_h[row.id]
            if row.deed == "extra":
                yield from self._beside(row, share, rows, origin)
            else:
                yield from self._of_row(row, share, drying.get(row.id), origin)

    def _of_row(
        self, row: TimetableStep, share: float, dries: TimetableStep | None, origin: datetime
    ) -> Iterator[Emission]:
        if row.of_step is None:
            return
        _, step = self._steps[row.of_step]
        if not isinstance(step, CoatStep):
            return
        finish = self._catalogue.finishes[step.finish]
        sprayed = self._sprayed(step)
        cleaning = row.deed == "clean-up"
        grams = self._cleaner(step) if cleaning else self._coat(step, row.side)
        if not grams:
            return
        end_h = gone_h = hours_between(origin, row.end)
        if dries is not None:
            gone_h += _until_dry_h(finish, dries)
        put_on = _Sprayed(
            id=row.id,
            room=row.room,
            dries_in=row.room if dries is None else dries.room,
            start_h=hours_between(origin, row.start),
            end_h=end_h,
            gone_h=gone_h,
            area_m2=0.0 if cleaning else sum(group.area_m2 for group in self._faces(step, row.side)) * share,
            sprayed=sprayed and not cleaning,
            at_booth=sprayed,
            booth_asked=sprayed and _asks_for_booth(finish),
            isocyanate=finish.hazards.isocyanate,  # what is washed out of a tool has not hardened either
        )
        for name, mass_g in grams.items():
            yield from self._of_solvent(put_on, finish, name, mass_g.scaled(share))

    def _beside(
        self, row: TimetableStep, share: float, rows: Sequence[TimetableStep], origin: datetime
    ) -> Iterator[Emission]:
        if row.of_step is None or row.extra is None:
            return
        treatment, step = self._steps[row.of_step]
        lifted = lifted_at(row, treatment, rows, self._catalogue)
        stretch = LiquidUse(
            id=row.id,
            room=row.room,
            start_h=hours_between(origin, row.start),
            end_h=hours_between(origin, row.end),
            area_m2=step.area_m2 / portions_of(step, self._catalogue) * share,
            lifted_h=None if lifted is None else hours_between(origin, lifted),
        )
        yield from liquid_emissions(row.extra, stretch, self._catalogue)

    def _of_solvent(self, put_on: _Sprayed, finish: Finish, name: str, mass_g: Range) -> Iterator[Emission]:
        """Give what a stretch sets free of one solvent: where it is put on, and where it dries."""
        film_h = slowed_hours(
            decay_hours(finish, self._evaporation),
            mass_g.high,
            put_on.area_m2,
            self._catalogue.solvents.get(name),
            self._evaporation,
        )
        emission = Emission(
            id=put_on.id,
            room=put_on.room,
            start_h=put_on.start_h,
            end_h=put_on.end_h,
            gone_h=max(put_on.gone_h, put_on.end_h + self._gone_in(film_h)),
            decay_h=0.0 if put_on.sprayed else film_h,
            solvent=name,
            mass_g=mass_g,
            booth_only=put_on.sprayed and put_on.booth_asked,
            sprayed=put_on.sprayed,
            booth_asked=put_on.booth_asked,
            at_booth=put_on.at_booth,
            isocyanate=put_on.isocyanate,
        )
        if put_on.dries_in == put_on.room:
            yield emission
            return
        yield replace(emission, gone_h=put_on.end_h)
        wet = replace(emission, decay_h=film_h).still_wet
        yield replace(
            emission,
            room=put_on.dries_in,
            start_h=put_on.end_h,
            decay_h=film_h,
            mass_g=mass_g.scaled(wet),
            booth_only=False,
            sprayed=False,
            booth_asked=False,
            at_booth=False,
            carried=True,
        )

    def _gone_in(self, film_h: float) -> float:
        return film_h * math.log(1 / (1 - self._evaporation.by_dust_free_pct / 100))

    # --- without one ------------------------------------------------------------------------------------------------

    def unplanned(self, room: str) -> list[Emissions]:
        """Return the coats of a plan that has no timetable, all items of one coat one after another in a room."""
        together_: dict[tuple[str | None, str | None, int | None], list[tuple[Treatment, CoatStep]]] = {}
        for treatment, step in self._steps.values():
            if isinstance(step, CoatStep):
                together_.setdefault((step.finish, step.method, step.coat), []).append((treatment, step))
        beside: dict[str, list[TreatmentStep]] = {}
        for _, step in self._steps.values():
            if step.recipe.extra is not None and self._catalogue.extra_steps[step.recipe.extra].liquids:
                beside.setdefault(step.recipe.extra, []).append(step)
        return [
            *(Emissions(None, tuple(self._all_beside(name, steps, room))) for name, steps in beside.items()),
            *(Emissions(None, tuple(self._one_after_another(of_finish, room))) for of_finish in together_.values()),
        ]

    def _all_beside(self, name: str, steps: Sequence[TreatmentStep], room: str) -> Iterator[Emission]:
        at_h = 0.0
        for step in steps:
            end_h = at_h + item_work(self._steps[step.id][0], step, self._catalogue).hours.low
            yield from liquid_emissions(name, LiquidUse(step.id, room, at_h, end_h, step.area_m2), self._catalogue)
            at_h = end_h

    def _one_after_another(self, coats: Sequence[tuple[Treatment, CoatStep]], room: str) -> Iterator[Emission]:
        at_h = 0.0
        for treatment, step in coats:
            finish = self._catalogue.finishes[step.finish]
            end_h = at_h + coating_hours(treatment, step, self._catalogue).low
            sprayed = self._sprayed(step)
            last = (treatment, step) == coats[-1]
            grams = added_up([self._coat(step), self._cleaner(step) if last else {}])
            put_on = _Sprayed(
                id=step.id,
                room=room,
                dries_in=room,
                start_h=at_h,
                end_h=end_h,
                gone_h=end_h + finish.surface_dry_h,
                area_m2=step.area_m2,
                sprayed=sprayed,
                at_booth=sprayed,
                booth_asked=sprayed and _asks_for_booth(finish),
                isocyanate=finish.hazards.isocyanate,
            )
            for name, mass_g in grams.items():
                yield from self._of_solvent(put_on, finish, name, mass_g)
            at_h = end_h

    # --- what is in it ----------------------------------------------------------------------------------------------

    def _coat(self, step: CoatStep, side: Side = "") -> Vapours:
        """Return the solvent of a coat with its thinner; of one side its share."""
        need = self._needs[step.id]
        finish = self._catalogue.finishes[need.finish]
        share = share_of_faces(need, self._faces(step, side)) if side else 1.0
        voc_g = _product(need.needed_ml, finish.voc_g_l)
        vapours = [parts_of(finish.voc_solvent or UNKNOWN, voc_g.scaled(share), self._catalogue)] if voc_g.high else []
        thinner = thinner_of(finish)
        if thinner is not None and need.thinner_ml.high:
            vapours.append(parts_of(thinner, self._mass(thinner, need.thinner_ml).scaled(share), self._catalogue))
        return added_up(vapours)

    def _cleaner(self, step: CoatStep) -> Vapours:
        cleaner = cleaner_of(self._catalogue.finishes[step.finish])
        rinse_ml = self._catalogue.methods[step.method].rinse_ml
        if cleaner is None or rinse_ml is None:
            return {}
        return parts_of(cleaner, self._mass(cleaner, rinse_ml), self._catalogue)

    def _mass(self, solvent: str, volume_ml: Range) -> Range:
        """Return the mass of a volume; of what no record is known of as much as of water, more than almost all. [g]"""
        record = self._catalogue.solvents.get(solvent)
        density_g_l = Range(1000.0, 1000.0, 1000.0) if record is None else record.density_g_l
        return _product(volume_ml, density_g_l)

    def _sprayed(self, step: CoatStep) -> bool:
        return self._catalogue.methods[step.method].sprayed

    def _faces(self, step: CoatStep, side: Side) -> tuple[FaceGroup, ...]:
        return groups_of_side(self._steps[step.id][0], step, side, self._catalogue)


def _asks_for_booth(finish: Finish) -> bool:
    """Return whether a finish is sprayed in a booth, and the gun cleaned there."""
    return finish.hazards.flammable or finish.hazards.isocyanate


def _product(volume_ml: Range, grams_l: Range) -> Range:
    """Return a mass: low of low, high of high. [g]"""
    return Range(
        volume_ml.low * grams_l.low / 1000,
        volume_ml.typical * grams_l.typical / 1000,
        volume_ml.high * grams_l.high / 1000,
    )


def _until_dry_h(finish: Finish, dries: TimetableStep) -> float:
    """Return how long a coat takes to be dust-free in the shop's air, by how long it takes there to be recoated. [h]"""
    whole_h = hours_between(dries.start, dries.next_from or dries.end)
    # What may be coated again at once, wet on wet, is not dry any sooner for that.
    share = min(1.0, finish.surface_dry_h / finish.recoat_h.typical) if finish.recoat_h.typical else 1.0
    return max(whole_h * share, finish.surface_dry_h)
