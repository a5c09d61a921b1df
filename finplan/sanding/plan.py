"""The sanding of a piece: bare wood, what lies between the coats, what is used up, and in which order."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue, StepDeed, on_other_scale
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.group import GroupSanding, group_sanding
from finplan.sanding.order import OrderStep, order_of_work
from finplan.sanding.packs import whole_packs
from finplan.sanding.step import BY_HAND, NO_DUST, SandingStep, method_between, scuff_step, without_machines
from finplan.sanding.stock import Stock, stock_of
from finplan.surface import PieceSurface
from finplan.system import FaceGroup, Treatment, TreatmentStep


@dataclass(frozen=True, slots=True)
class LaterWork:
    """What is done to an item beside sanding bare wood: raising the grain, between coats, rubbing out. Times in h."""

    id: str
    """Of the treatment's step."""
    item: str
    do: StepDeed
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
        return Range.total(sanded.hours for sanded in self.groups if sanded.group in wanted)

    def on_lathe(self, groups: Iterable[FaceGroup], catalogue: Catalogue) -> bool:
        """Return whether these groups are sanded on the lathe for the most part of the time that it takes."""
        wanted = set(groups)
        steps = [step for sanded in self.groups if sanded.group in wanted for step in sanded.steps]
        turned = [step for step in steps if catalogue.sanding_methods[step.method].by == "lathe"]
        return 2 * sum(step.hours.typical for step in turned) > sum(step.hours.typical for step in steps)

    def handling_of(self, part: str) -> Range:
        """Return how long picking up and turning the pieces of a part takes, all grades, of one of a set. [h]"""
        return Range.total(sanded.handling_h for sanded in self.groups_of_one if sanded.group.part == part)

    @property
    def groups_of_one(self) -> tuple[GroupSanding, ...]:
        """All groups; of a set of alike pieces those of the first."""
        return tuple(sanded for sanded in self.groups if sanded.group.number <= 1)

    def sanded_of(self, groups: Iterable[FaceGroup]) -> dict[str, list[GroupSanding]]:
        """Return how bare wood of these groups is sanded, by the part; none of what is not."""
        wanted = set(groups)
        by_part: dict[str, list[GroupSanding]] = {}
        for sanded in self.groups:
            if sanded.group in wanted and sanded.steps:
                by_part.setdefault(sanded.group.part, []).append(sanded)
        return by_part


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

    Notes
    -----
    A grade that would be bought for a few square centimetres is not: what is at hand, or bought for more, does.
    """
    stock = stock_of(shop, catalogue)
    plan = _plan(treatments, surface, catalogue, shop, stock, frozenset())
    enough_m2 = catalogue.sanding_rules["usual"].worth_buying_m2
    wanted_m2 = _wanted_m2(plan, treatments)
    worth = {grit for grit, area_m2 in wanted_m2.items() if area_m2 >= enough_m2}
    if not worth or len(worth) == len(wanted_m2):
        return plan
    if not stock.kept:
        named = {grit for group in plan.groups for grit in (group.group.start_grit, group.group.stop_grit) if grit}
        stock = stock.of_at_hand(worth | named)
    return _plan(treatments, surface, catalogue, shop, stock, frozenset(wanted_m2) - worth)


def _wanted_m2(plan: SandingPlan, treatments: Sequence[Treatment]) -> dict[str, float]:
    """Return on how much each grade is used that would be bought: all of them where the shop names none. [m²]"""
    wanted_m2: dict[str, float] = {}

    def add(grits: Iterable[str], area_m2: float) -> None:
        for grit in grits:
            wanted_m2[grit] = wanted_m2.get(grit, 0.0) + area_m2

    for group in plan.groups:
        used = () if plan.stock.kept else tuple(step.grit for step in group.steps)
        add({*used, *group.buy}, group.group.area_m2)
    for treatment in treatments:
        for step in treatment.steps:
            abraded = {grit_step.grit for grit_step in plan.abrading.get(step.id, ())}
            add(abraded if not plan.stock.kept else plan.stock.to_buy(abraded), step.area_m2)
    return wanted_m2


def _plan(
    treatments: tuple[Treatment, ...],
    surface: PieceSurface,
    catalogue: Catalogue,
    shop: Shop,
    stock: Stock,
    not_worth: frozenset[str],
) -> SandingPlan:
    """Return how everything is sanded where some grades are not worth buying."""
    groups: list[GroupSanding] = []
    later: list[LaterWork] = []
    abrading: dict[str, tuple[SandingStep, ...]] = {}
    again: dict[str, tuple[SandingStep, ...]] = {}

    def abrade(treatment: Treatment, step: TreatmentStep, wanted: str) -> tuple[SandingStep, ...]:
        grit = stock.like(wanted) or stock.named(wanted)
        if grit in not_worth:
            grit = stock.nearest(grit)
        return _abrading(treatment, step, grit, stock, catalogue, shop)

    for treatment in treatments:
        # What may hold lead is sanded wet, and so by hand.
        having = shop if treatment.old_paint is None else without_machines(shop, catalogue)
        bare = treatment.groups if any(step.do == "sand" for step in treatment.steps) else ()
        groups += [group_sanding(treatment, group, catalogue, having, stock, not_worth) for group in bare]
        for step in treatment.steps:
            if step.do in ("abrade", "rub-out") and step.recipe.grit:
                abrading[step.id] = abrade(treatment, step, step.recipe.grit)
            if step.do in ("abrade", "rub-out", "raise-grain"):
                later.append(_later(treatment, step, abrading.get(step.id, ()), catalogue))
            if step.do in ("coat", "fill"):
                grit = _between_coats(treatment, step) or catalogue.sanding_methods[BY_HAND].scuff_grit
                again[step.id] = abrade(treatment, step, grit)
    groups = _with_handling(groups, catalogue)
    steps = [step for group in groups for step in group.steps] + [
        step for abraded in abrading.values() for step in abraded
    ]
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
    return tuple(
        scuff_step(
            group,
            grit,
            method=method_between(grit, shop, catalogue),
            handled=treatment.pieces if group is largest else 0,
            stock=stock,
            catalogue=catalogue,
        )
        for group in step.groups
    )


def _later(
    treatment: Treatment, step: TreatmentStep, abraded: tuple[SandingStep, ...], catalogue: Catalogue
) -> LaterWork:
    hours = Range.total(grit_step.hours for grit_step in abraded)
    if step.do == "raise-grain":
        job = catalogue.work["raise-grain"]
        hours = job.handling_h.scaled(treatment.pieces)
        if job.speed_m2_h is not None:
            hours = hours.plus(Range.time_for(step.area_m2, job.speed_m2_h))
    return LaterWork(step.id, treatment.item, step.do, step.label, hours, abraded, step.recipe.note)


def _with_handling(groups: Sequence[GroupSanding], catalogue: Catalogue) -> list[GroupSanding]:
    """Return the groups, each with its share of picking the parts up and turning them.

    A part is picked up once for each grade, whatever the number of its faces; they share it by how long they are
    sanded.
    """
    by_part: dict[tuple[int, str], list[GroupSanding]] = {}
    for sanded in groups:
        by_part.setdefault((sanded.group.number, sanded.group.part), []).append(sanded)
    shared: dict[FaceGroup, Range] = {}
    for of_part in by_part.values():
        methods = {step.grit: step.method for sanding in of_part for step in sanding.steps}
        each_h = Range.total(catalogue.sanding_methods[method].handling_h for method in methods.values())
        whole_h = sum(sanding.hours.typical for sanding in of_part)
        for sanded in of_part:
            shared[sanded.group] = each_h.scaled(sanded.group.count * sanded.hours.typical / whole_h)
    return [replace(sanding, handling_h=shared[sanding.group]) for sanding in groups]


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
