"""The sanding of every part: grits, minutes, what is used up, and the dust."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue, SandingMethod
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.progression import progression
from finplan.sanding.stop import stop_grit
from finplan.system import FaceGroup, Treatment, TreatmentStep

DENSITY_KG_M3 = 1120.0
# Density at 12 % moisture per unit of specific gravity on volume at 12 %: 1000 kg/m³ of water times 1.12.
# Source: USDA FPL-GTR-190 Wood Handbook (2010), chapter 4, density from specific gravity and moisture content.

Work = Literal["first", "later", "scuff"]
_NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SandingStep:
    """One grit on one group of faces. Sizes in µm, times in h, dust in g."""

    grit: str
    size_um: float
    method: str
    hours: Range
    product: str
    used: Range
    """Discs, sheets or strips."""
    dust_g: Range


@dataclass(frozen=True, slots=True)
class GroupSanding:
    """How one group of faces is sanded before finishing."""

    group: FaceGroup
    steps: tuple[SandingStep, ...]
    stop_reason: str
    note: str | None
    """What to know where the grades at hand do not reach."""


@dataclass(frozen=True, slots=True)
class AbrasiveNeed:
    """What is used of one product and grit, all steps together."""

    product: str
    grit: str
    needed: Range
    packs: tuple[tuple[int, int], ...]
    """How many packs of which count."""


@dataclass(frozen=True, slots=True)
class SandingPlan:
    """The sanding of a piece before the first coat, and between the coats."""

    groups: tuple[GroupSanding, ...]
    abrading: dict[str, tuple[SandingStep, ...]]
    """By the id of the treatment's step."""
    abrading_again: dict[str, tuple[SandingStep, ...]]
    """By the id of a coat: what it needs first if the coat below has become too hard. Not among the abrasives."""
    abrasives: tuple[AbrasiveNeed, ...]

    @property
    def dust_g(self) -> Range:
        """All the dust of bare wood. [g]"""
        return Range.total(step.dust_g for group in self.groups for step in group.steps)

    def hours_of(self, groups: Iterable[FaceGroup]) -> Range:
        """Return how long sanding these groups takes. [h]"""
        wanted = set(groups)
        return Range.total(step.hours for found in self.groups if found.group in wanted for step in found.steps)


def sanding_plan(treatments: tuple[Treatment, ...], catalogue: Catalogue, shop: Shop) -> SandingPlan:
    """Return how everything is sanded with the grades and methods of *shop*."""
    sizes = catalogue.grades["p-grade"].sizes_um
    stock = {grit: sizes[grit] for grit in (shop.grits or sizes) if grit in sizes and grit[1:].isdigit()}
    groups: list[GroupSanding] = []
    abrading: dict[str, tuple[SandingStep, ...]] = {}
    again: dict[str, tuple[SandingStep, ...]] = {}
    by_hand = catalogue.sanding_methods["hand"]
    for treatment in treatments:
        for group, handled in _handled_once(treatment.groups):
            groups.append(_group(treatment, group, handled, catalogue, shop, stock))
        for step in treatment.steps:
            if step.do in ("abrade", "rub-out") and step.recipe.grit:
                abrading[step.id] = _abrading(treatment, step, step.recipe.grit, sizes, by_hand)
            if step.do in ("coat", "fill"):
                grit = _between_coats(treatment, step) or by_hand.scuff_grit
                again[step.id] = _abrading(treatment, step, grit, sizes, by_hand)
    steps = [step for group in groups for step in group.steps] + [step for found in abrading.values() for step in found]
    return SandingPlan(tuple(groups), abrading, again, _abrasives(steps, catalogue))


def _between_coats(treatment: Treatment, coat: TreatmentStep) -> str | None:
    """Return the grit with which the system abrades nearest before a coat, or after it."""
    position = treatment.steps.index(coat)
    before = [step.recipe.grit for step in treatment.steps[:position] if step.do == "abrade"]
    after = [step.recipe.grit for step in treatment.steps[position:] if step.do == "abrade"]
    return (before[-1:] or after[:1] or [None])[0]


def _abrading(
    treatment: Treatment, step: TreatmentStep, grit: str, sizes: Mapping[str, float], method: SandingMethod
) -> tuple[SandingStep, ...]:
    """Return the abrading of an item: what is glued up by then is picked up once."""
    largest = max(step.groups, key=lambda group: group.area_m2)
    # The dust of a film between coats is not wood, is little, and is left out.
    return tuple(
        _step(group, treatment.pieces if group is largest else 0, grit, sizes[grit], "hand", method, _NOTHING, "scuff")
        for group in step.groups
    )


def _handled_once(groups: Sequence[FaceGroup]) -> list[tuple[FaceGroup, int]]:
    """Return each group with the number of parts to pick up and turn.

    A part is picked up once for each grit, whatever the number of its groups: the largest of them counts it.
    """
    largest: dict[str, FaceGroup] = {}
    for group in groups:
        if group.part not in largest or group.area_m2 > largest[group.part].area_m2:
            largest[group.part] = group
    return [(group, group.count if largest[group.part] == group else 0) for group in groups]


def _method(group: FaceGroup, shop: Shop, catalogue: Catalogue) -> str:
    """Return the way of sanding a group: a turning on the lathe, by machine where it is flat, else by hand."""
    if "turning" in group.faces and "lathe" in shop.methods:
        return "lathe"
    machines = [name for name in shop.methods if name in catalogue.sanding_methods and name not in ("lathe", "hand")]
    return machines[0] if group.kind == "flat" and machines else "hand"


def _group(
    treatment: Treatment,
    group: FaceGroup,
    handled: int,
    catalogue: Catalogue,
    shop: Shop,
    stock: dict[str, float],
) -> GroupSanding:
    system = catalogue.systems[treatment.system]
    timber = catalogue.timbers[group.timber]
    surface = catalogue.surfaces[group.surface]
    ladder = catalogue.caps["ladder"]
    stop, reason = stop_grit(system, timber, group, sorted(stock, key=lambda grit: -stock[grit]))
    cap: float = getattr(ladder, system.progression)
    found = progression(surface.start, stop, stock, cap)
    notes = []
    if found.grits[-1] != stop:
        notes.append(f"{stop} is not among the grades at hand: {found.grits[-1]} is the next")
    if not found.within_cap:
        notes.append(
            f"the grain falls by {found.worst_ratio:.2f} at once where {cap:g} is the limit: buy a grade between"
        )
    method_name = _method(group, shop, catalogue)
    method = catalogue.sanding_methods[method_name]
    density_g_m3 = DENSITY_KG_M3 * timber.specific_gravity * 1000
    steps: list[SandingStep] = []
    before_um = 0.0
    for index, grit in enumerate(found.grits):
        depth_mm = surface.remove_mm if index == 0 else ladder.scratch_depth.scaled(before_um / 1000)
        dust_g = depth_mm.scaled(group.area_m2 / 1000 * density_g_m3)
        steps.append(
            _step(group, handled, grit, stock[grit], method_name, method, dust_g, "first" if index == 0 else "later")
        )
        before_um = stock[grit]
    return GroupSanding(group, tuple(steps), reason, "; ".join(notes) or None)


def _step(
    group: FaceGroup,
    handled: int,
    grit: str,
    size_um: float,
    name: str,
    method: SandingMethod,
    dust_g: Range,
    work: Work,
) -> SandingStep:
    speed = _speed(method, group, work)
    use = {"first": method.use_first_per_m2, "later": method.use_later_per_m2, "scuff": method.use_scuff_per_m2}[work]
    handling = method.handling_h.scaled(handled)
    hours = Range.time_for(group.area_m2, speed).plus(handling)
    return SandingStep(grit, size_um, name, hours, method.product, use.scaled(group.area_m2), dust_g)


def _speed(method: SandingMethod, group: FaceGroup, work: Work) -> Range:
    """Return the speed on a group: profiles and turnings are slower, and so is end grain. [m²/h]"""
    if work == "scuff":
        return (method.scuff_profile_m2_h if group.kind == "profile" else None) or method.scuff_flat_m2_h
    flat = method.first_m2_h if work == "first" else method.later_m2_h
    if group.kind == "profile":
        return method.profile_m2_h or flat
    if group.kind == "end":
        slower = method.end_grain
        return Range(flat.low * slower.low, flat.typical * slower.typical, flat.high * slower.high)
    return flat


def _abrasives(steps: list[SandingStep], catalogue: Catalogue) -> tuple[AbrasiveNeed, ...]:
    needs: dict[tuple[str, str], Range] = {}
    packs: dict[str, tuple[int, ...]] = {}
    for step in steps:
        key = (step.product, step.grit)
        needs[key] = needs.get(key, _NOTHING).plus(step.used)
        packs[step.product] = catalogue.sanding_methods[step.method].packs
    return tuple(
        AbrasiveNeed(product, grit, needed, _packs(math.ceil(needed.high - 1e-9), packs[product]))
        for (product, grit), needed in sorted(needs.items(), key=lambda item: (item[0][0], int(item[0][1][1:])))
    )


def _packs(pieces: int, counts: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """Return the packs that leave the fewest over, larger packs first."""
    smallest = min(counts)
    packs: list[tuple[int, int]] = []
    for count in sorted(counts, reverse=True):
        number = pieces // count if count != smallest else math.ceil(pieces / count)
        if number:
            packs.append((number, count))
            pieces -= number * count
        if pieces <= 0:
            break
    return tuple(packs)
