"""The sanding of a piece: bare wood, what lies between the coats, what is used up, and in which order."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue, on_other_scale
from finplan.catalogue.system import Deed
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.group import GroupSanding, grits_of, group_sanding
from finplan.sanding.order import OrderStep, order_of_work
from finplan.sanding.packs import whole_packs
from finplan.sanding.step import BY_HAND, NO_DUST, SandingStep, method_between, sanding_step
from finplan.sanding.stock import Stock, stock_of
from finplan.surface import PieceSurface
from finplan.system import FaceGroup, Treatment, TreatmentStep


@dataclass(frozen=True, slots=True)
class LaterWork:
    """What is done to an item beside sanding bare wood: raising the grain, between coats, rubbing out. Times in h."""

    id: str
    """Of the treatment's step."""
    item: str
    do: Deed
    label: str
    hours: Range
    steps: tuple[SandingStep, ...]
    """By group of faces; none where nothing is abraded."""
    note: str | None


@dataclass(frozen=True, slots=True)
class AbrasiveNeed:
    """What is used of one product and grit, all steps together."""

    product: str
    abrasive: str
    """The record of it."""
    grit: str
    other_scale: str
    needed: Range
    packs: tuple[tuple[int, int], ...]
    """How many packs of which count, enough for the high end of what is needed."""


@dataclass(frozen=True, slots=True)
class SandingPlan:
    """The sanding of a piece before the first coat, and between the coats."""

    groups: tuple[GroupSanding, ...]
    later: tuple[LaterWork, ...]
    """In the order of the treatments' steps."""
    abrading: dict[str, tuple[SandingStep, ...]]
    """By the id of the treatment's step."""
    abrading_again: dict[str, tuple[SandingStep, ...]]
    """By the id of a coat: what it needs first if the coat below has become too hard. Not among the abrasives."""
    abrasives: tuple[AbrasiveNeed, ...]
    order: tuple[OrderStep, ...]
    """What is sanded before and after gluing up, item by item."""
    stock: Stock

    @property
    def dust_g(self) -> Range:
        """All the dust of bare wood. [g]"""
        return Range.total(step.dust_g for group in self.groups for step in group.steps)

    @property
    def buy(self) -> tuple[str, ...]:
        """Grades to buy so that no step is too long, and those that coats ask for and that are not at hand."""
        asked = [step.grit for steps in self.abrading.values() for step in steps]
        wanted = dict.fromkeys([*(grit for group in self.groups for grit in group.buy), *self.stock.to_buy(asked)])
        return tuple(sorted(wanted, key=lambda grit: -self.stock.sizes_um[grit]))

    def hours_of(self, groups: Iterable[FaceGroup]) -> Range:
        """Return how long sanding these groups takes. [h]"""
        wanted = set(groups)
        return Range.total(found.hours for found in self.groups if found.group in wanted)

    def grits_of(self, groups: Iterable[FaceGroup]) -> dict[str, tuple[str, ...]]:
        """Return the grades that bare wood of these groups gets, coarse first, by the part; none of what gets none."""
        wanted = set(groups)
        by_part: dict[str, list[GroupSanding]] = {}
        for found in self.groups:
            if found.group in wanted and found.steps:
                by_part.setdefault(found.group.part, []).append(found)
        return {part: grits_of(of_part) for part, of_part in by_part.items()}


def sanding_plan(
    treatments: tuple[Treatment, ...], surface: PieceSurface, catalogue: Catalogue, shop: Shop
) -> SandingPlan:
    """Return how everything is sanded with the grades and methods of *shop*.

    Parameters
    ----------
    treatments, surface
        What every item gets, and all faces, those that get nothing too
    catalogue, shop
        The records, and what the shop has
    """
    stock = stock_of(shop, catalogue)
    groups: list[GroupSanding] = []
    later: list[LaterWork] = []
    abrading: dict[str, tuple[SandingStep, ...]] = {}
    again: dict[str, tuple[SandingStep, ...]] = {}
    for treatment in treatments:
        groups += [group_sanding(treatment, group, catalogue, shop, stock) for group in treatment.groups]
        for step in treatment.steps:
            if step.do in ("abrade", "rub-out") and step.recipe.grit:
                abrading[step.id] = _abrading(treatment, step, step.recipe.grit, stock, catalogue, shop)
            if step.do in ("abrade", "rub-out", "raise-grain"):
                later.append(_later(treatment, step, abrading.get(step.id, ()), catalogue))
            if step.do in ("coat", "fill"):
                grit = _between_coats(treatment, step) or catalogue.sanding_methods[BY_HAND].scuff_grit
                again[step.id] = _abrading(treatment, step, grit, stock, catalogue, shop)
    groups = _with_handling(groups, catalogue)
    steps = [step for group in groups for step in group.steps] + [step for found in abrading.values() for step in found]
    return SandingPlan(
        groups=tuple(groups),
        later=tuple(later),
        abrading=abrading,
        abrading_again=again,
        abrasives=_abrasives(steps, catalogue, stock),
        order=order_of_work(treatments, surface, groups, catalogue),
        stock=stock,
    )


def _between_coats(treatment: Treatment, coat: TreatmentStep) -> str | None:
    """Return the grit with which the system abrades nearest before a coat, or after it."""
    position = treatment.steps.index(coat)
    before = [step.recipe.grit for step in treatment.steps[:position] if step.do == "abrade"]
    after = [step.recipe.grit for step in treatment.steps[position:] if step.do == "abrade"]
    return (before[-1:] or after[:1] or [None])[0]


def _abrading(
    treatment: Treatment, step: TreatmentStep, grit: str, stock: Stock, catalogue: Catalogue, shop: Shop
) -> tuple[SandingStep, ...]:
    """Return the abrading of an item: what is glued up by then is picked up once."""
    largest = max(step.groups, key=lambda group: group.area_m2)
    # The dust of a film between coats is not wood, is little, and is left out.
    return tuple(
        sanding_step(
            group,
            stock.like(grit) or stock.named(grit),
            "scuff",
            method=method_between(grit, shop, catalogue),
            handled=treatment.pieces if group is largest else 0,
            dust_g=NO_DUST,
            stock=stock,
            catalogue=catalogue,
        )
        for group in step.groups
    )


def _later(
    treatment: Treatment, step: TreatmentStep, abraded: tuple[SandingStep, ...], catalogue: Catalogue
) -> LaterWork:
    hours = Range.total(one.hours for one in abraded)
    if step.do == "raise-grain":
        job = catalogue.work["raise-grain"]
        hours = job.handling_h.scaled(treatment.pieces)
        if job.speed_m2_h is not None:
            hours = hours.plus(Range.time_for(step.area_m2, job.speed_m2_h))
    return LaterWork(step.id, treatment.item, step.do, step.label, hours, abraded, step.recipe.note)


def _with_handling(groups: Sequence[GroupSanding], catalogue: Catalogue) -> list[GroupSanding]:
    """Return the groups with the time for picking parts up and turning them.

    A part is picked up once for each grit, whatever the number of its groups: the largest of those that get the grit
    counts it.
    """
    largest: dict[tuple[str, str], FaceGroup] = {}
    for found in groups:
        for step in found.steps:
            key = (found.group.part, step.grit)
            if key not in largest or found.group.area_m2 > largest[key].area_m2:
                largest[key] = found.group

    def handled(group: FaceGroup, step: SandingStep) -> SandingStep:
        if largest[group.part, step.grit] != group:
            return step
        handling_h = catalogue.sanding_methods[step.method].handling_h
        return replace(step, hours=step.hours.plus(handling_h.scaled(group.count)))

    return [replace(found, steps=tuple(handled(found.group, step) for step in found.steps)) for found in groups]


def _abrasives(steps: Sequence[SandingStep], catalogue: Catalogue, stock: Stock) -> tuple[AbrasiveNeed, ...]:
    """Return what is used up by product and grit, packs counted for the high end."""
    needs: dict[tuple[str, str, str], Range] = {}
    for step in steps:
        key = (step.product, step.abrasive, step.grit)
        needs[key] = needs.get(key, NO_DUST).plus(step.used)
    ordered = sorted(needs.items(), key=lambda item: (item[0][0], -stock.sizes_um[item[0][2]]))
    return tuple(
        AbrasiveNeed(
            product=product,
            abrasive=abrasive,
            grit=grit,
            other_scale=on_other_scale(grit, stock.sizes_um),
            needed=needed,
            packs=whole_packs(
                math.ceil(needed.high - 1e-9), [pack.count for pack in catalogue.abrasives[abrasive].packs]
            ),
        )
        for (product, abrasive, grit), needed in ordered
    )
