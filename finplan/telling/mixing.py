"""What is measured out for a coat, in words: poured, mixed, thinned, and how thick it goes on."""

from __future__ import annotations

from finplan.material import CoatMix, CoatNeed, MakeUp, MixPart, coat_mix, thinned_cut
from finplan.material.measuring import pour_up
from finplan.planning import Plan
from finplan.quantity import Range, Units
from finplan.showing import plain, show_duration, show_mass, show_measured, show_strength
from finplan.spans import show_range

_TOGETHER = "\u00a0"
"""Between a number and its unit, so that no line breaks there."""


def poured(coat: CoatNeed, plan: Plan) -> str:
    """Return how much is poured out for a coat."""
    return poured_words(_mix(coat, plan), plan.units)


def weighed(coat: CoatNeed, plan: Plan) -> str:
    """Return the same by mass, for who would rather weigh it; empty where that is not known."""
    mass_g = _mix(coat, plan).decant.mass_g
    return "" if mass_g is None else show_mass(mass_g, plan.units)


def mixing(coat: CoatNeed, plan: Plan) -> tuple[str, ...]:
    """Return what is mixed for a coat: the components, the thinner on top, the batches, and the film to lay.

    Amounts hold together with spaces at which no line breaks.
    """
    units, finish, mix = plan.units, plan.catalogue.finishes[coat.finish], _mix(coat, plan)
    lines: list[str] = []
    if mix.parts:
        lines.append(" + ".join(part_words(part, units) for part in mix.parts))
    if mix.thinner is not None:
        words = f"thin with {part_words(mix.thinner, units)} ({plain(coat.step.recipe.thin_pct)} %)"
        cut = thinned_cut(coat, finish) if finish.family == "shellac" else None
        lines.append(words if cut is None else f"{words}: {plain(cut, 2)} lb cut")
    if mix.batches > 1:
        life = show_duration(mix.use_within_h or 0.0)
        lines.append(f"{mix.batches} batches, one after the other: each lasts {life}")
    if coat.film is not None:
        lines.append(f"lay it {_microns(coat.film.gauge_um, units)} wet by the comb gauge")
    return tuple(lines)


def make_up_words(one: MakeUp, plan: Plan) -> str:
    """Return how a solution is made up ahead of all coats."""
    units, finish = plan.units, plan.catalogue.finishes[one.finish]
    strength = show_strength(one.strength_g_l, units)
    if finish.family == "shellac":
        strength += f", a {plain(one.cut_lb_gal, 2)} lb cut"
    words = f"Make up {show_measured(one.volume_ml, units)} for all coats: {part_words(one.solid, units)} in "
    words += f"{part_words(one.liquid, units)} ({strength})"
    wait = f" It dissolves in {show_range(one.wait_h, show_duration)}." if one.wait_h is not None else ""
    return f"{words}.{wait}"


def part_words(part: MixPart, units: Units) -> str:
    """Return one part by volume and by mass, as far as it is measured so."""
    volume = "" if part.volume_ml is None else show_measured(part.volume_ml, units)
    mass = "" if part.mass_g is None else show_mass(part.mass_g, units)
    amount = f"{volume} ({mass})" if volume and mass else volume or mass
    return f"{amount.replace(' ', _TOGETHER)} {part.name}"


def _mix(coat: CoatNeed, plan: Plan) -> CoatMix:
    """Return what is measured out for a coat, or for one side of it, which is measured out by itself."""
    known = plan.materials.mixes.get((coat.piece, coat.step.id))
    return known or coat_mix(coat, plan.catalogue, plan.units, plan.materials.pot_lives_h)


def _microns(thickness_um: Range, units: Units) -> str:
    def show(value_um: float) -> str:
        return f"{plain(value_um, 2)} µm" if units == "metric" else f"{plain(value_um / 25.4, 2)} mil"

    return show_range(thickness_um, show)


def poured_words(mix: CoatMix, units: Units) -> str:
    """Return how much is poured out for a coat: of what is mixed, both components together; of batches, each."""
    volume = show_measured(mix.decant.volume_ml or 0.0, units)
    return volume if mix.batches == 1 else f"{mix.batches} × {volume}"


def show_decant(volume_ml: float, units: Units) -> str:
    """Return what to pour out: up to the next mark of a cup.

    >>> show_decant(81.2, "metric"), show_decant(81.2, "us"), show_decant(3.0, "us")
    ('85 ml', '2-3/4 fl oz', '1/4 fl oz')
    """
    return show_measured(pour_up(volume_ml, units), units)
