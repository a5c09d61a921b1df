"""What to buy, and what to measure out for each coat."""

from __future__ import annotations

import math
from dataclasses import dataclass

from finplan.catalogue import Finish
from finplan.catalogue.finish import Mix
from finplan.material import CoatNeed, MaterialNeed, components_ml, sure_percent
from finplan.plan import Plan
from finplan.quantity import Units
from finplan.sanding import AbrasiveNeed
from finplan.sheet.planned import Names
from finplan.sheet.words import mixing_step_up, show_decant, show_mixed, show_range, show_span
from finplan.showing import plain, show_area, show_duration, show_pack, show_volume
from finplan.system import TreatmentStep


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material and the packs of it."""

    material: str
    packs: tuple[str, ...]
    low: str
    typical: str
    high: str
    enough: str
    left_over: str
    price: str


@dataclass(frozen=True, slots=True)
class CoatRow:
    """What one coat of one item takes."""

    item: str
    label: str
    area: str
    decant: str
    up_to: str
    mix: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoatTable:
    """The coats of one material."""

    material: str
    hint: str
    rows: tuple[CoatRow, ...]


@dataclass(frozen=True, slots=True)
class AbrasiveRow:
    """One abrasive and the packs of it."""

    product: str
    grit: str
    needed: str
    packs: str


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything to buy and to mix."""

    confidence: str
    materials: tuple[MaterialRow, ...]
    total: str
    coats: tuple[CoatTable, ...]
    abrasives: tuple[AbrasiveRow, ...]


def buying(plan: Plan) -> Buying:
    """Return what a plan buys and mixes."""
    units, finishes = plan.source.units, plan.source.catalogue.finishes
    needs, names = plan.materials.materials, Names(plan)
    costs = [need.cost for need in needs]
    return Buying(
        confidence=f"{plain(plan.materials.confidence * 100)} %",
        materials=tuple(_material(need, finishes[need.material], units) for need in needs),
        total="" if None in costs else f"{sum(cost or 0.0 for cost in costs):.2f}",
        coats=tuple(
            CoatTable(
                material=finishes[need.material].title,
                hint=_hint(need, plan),
                rows=tuple(_coat(coat, names, plan) for coat in need.coats),
            )
            for need in needs
        ),
        abrasives=tuple(_abrasive(need) for need in plan.sanding.abrasives),
    )


def _material(need: MaterialNeed, finish: Finish, units: Units) -> MaterialRow:
    return MaterialRow(
        material=finish.title,
        packs=tuple(f"{pack.count} × {show_pack(pack.size_ml, units)}" for pack in need.buy),
        low=show_volume(need.needed_ml.low, units),
        typical=show_volume(need.needed_ml.typical, units),
        high=show_volume(need.needed_ml.high, units),
        enough=f"{sure_percent(need.enough_probability)} %",
        left_over=show_volume(need.left_over_ml, units),
        price="price not given" if need.cost is None else f"{need.cost:.2f}",
    )


def _hint(need: MaterialNeed, plan: Plan) -> str:
    """Return what to know of a material whichever coat it is."""
    finish = plan.source.catalogue.finishes[need.material]
    methods = dict.fromkeys(method_of(coat.step, plan) for coat in need.coats)
    hints = [f"{'; '.join(methods)}.", f"Clean up with {finish.clean_up}."]
    if finish.mix:
        parts = " to ".join(f"{plain(part.parts)} {part.name}" for part in finish.mix.components)
        life = finish.mix.pot_life_h
        span = show_span(show_duration(life.low), show_duration(life.high))
        hints.insert(1, f"Mix {parts} by volume, only what one coat takes; a pot lasts {span}.")
    return " ".join(hints)


def _coat(coat: CoatNeed, names: Names, plan: Plan) -> CoatRow:
    units = plan.source.units
    return CoatRow(
        item=names.of_step(coat.step),
        label=coat.step.label,
        area=show_area(coat.area_m2, units),
        decant=poured(coat, plan),
        up_to=show_decant(coat.needed_ml.high, units),
        mix=mixing(coat, plan),
    )


def method_of(step: TreatmentStep, plan: Plan) -> str:
    """Return how a coat is put on, in words."""
    return plan.source.catalogue.methods[step.method or ""].title


def poured(coat: CoatNeed, plan: Plan) -> str:
    """Return how much is poured out for a coat: of what is mixed, both components together."""
    units, finish = plan.source.units, plan.source.catalogue.finishes[coat.finish]
    if finish.mix is None:
        return show_decant(coat.needed_ml.typical, units)
    return show_mixed(sum(_mixed_ml(coat, finish.mix, units)), units)


def mixing(coat: CoatNeed, plan: Plan) -> tuple[str, ...]:
    """Return what is mixed for a coat: the components, and the thinner on top."""
    finish, units = plan.source.catalogue.finishes[coat.finish], plan.source.units
    lines: list[str] = []
    if finish.mix:
        volumes = [
            f"{show_mixed(volume_ml, units)} {part.name}"
            for part, volume_ml in zip(finish.mix.components, _mixed_ml(coat, finish.mix, units), strict=True)
        ]
        lines.append(" + ".join(volumes))
    if coat.thinner_ml.high > 0:
        thinner = finish.thinner or "thinner"
        lines.append(
            f"thin with {show_decant(coat.thinner_ml.typical, units)} {thinner} ({plain(coat.step.recipe.thin_pct)} %)"
        )
    return tuple(lines)


def _mixed_ml(coat: CoatNeed, mix: Mix, units: Units) -> tuple[float, ...]:
    """Return the volumes that are mixed: the least one as a cup shows it, so that the ratio is kept exactly."""
    typical_ml = coat.needed_ml.typical
    least_ml = min(components_ml(mix, typical_ml))
    return components_ml(mix, typical_ml * mixing_step_up(least_ml, units) / least_ml)


def _abrasive(need: AbrasiveNeed) -> AbrasiveRow:
    return AbrasiveRow(
        product=need.product,
        grit=need.grit,
        needed=show_range(need.needed, lambda value: str(max(1, math.ceil(value)))),
        packs=", ".join(f"{number} pack{'s' if number > 1 else ''} of {count}" for number, count in need.packs),
    )
