"""What the assistant measures out for a coat: parts by volume and by mass, in batches that the pot life allows."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Finish, Measuring
from finplan.material.measuring import in_ratio, mix_step_ml, pour_up, up, weighed
from finplan.material.mix import components_ml
from finplan.material.need import CoatNeed
from finplan.material.solution import cut_of, solution_of, thinned_strength
from finplan.quantity import Range, Units


@dataclass(frozen=True, slots=True)
class MixPart:
    """One thing that is measured out, rounded to what can be measured."""

    name: str
    volume_ml: float | None
    """None of what is only weighed."""
    mass_g: float | None
    """None of what is only poured."""


@dataclass(frozen=True, slots=True)
class CoatMix:
    """What is measured out for one coat of one item. Amounts are of one batch."""

    batches: int
    """How often it is measured out, so that none outlasts its pot life."""
    decant: MixPart
    """The finish that is poured out, its components together; the thinner is not in it."""
    of_batch: MixPart
    """The same of a batch that is mixed for several coats at once, of which no smallest measure makes it more."""
    up_to_ml: float
    """The most that all batches together may take, never less than is poured out. [ml]"""
    parts: tuple[MixPart, ...]
    """The components; none of what comes ready, or stands made up."""
    thinner: MixPart | None
    use_within_h: float | None
    """How long a batch can be worked."""


@dataclass(frozen=True, slots=True)
class MakeUp:
    """A solution that is made up once, ahead of all coats."""

    finish: str
    volume_ml: float
    solid: MixPart
    liquid: MixPart
    strength_g_l: float
    cut_lb_gal: float
    wait_h: Range | None


def coat_mix(coat: CoatNeed, catalogue: Catalogue, units: Units, pot_lives_h: Mapping[str, Range]) -> CoatMix:
    """Return what is measured out for a coat: its typical amount.

    Parameters
    ----------
    coat
        What it needs
    catalogue
        Where the finish and its thinner are
    units
        Whose cups are used
    pot_lives_h
        How long a mix can be worked in the shop, by finish; none of what keeps. [h]

    Notes
    -----
    A mix that lasts hours is made in as many equal batches as its pot life (the low end) goes into the typical time
    that putting the coat on takes.
    """
    finish = catalogue.finishes[coat.finish]
    pot_life_h = pot_lives_h.get(coat.finish)
    batches = batches_of(coat, pot_life_h)
    volume_ml = coat.needed_ml.typical / batches
    marks = catalogue.measuring[units]
    parts = _parts(finish, volume_ml, marks)
    poured_ml = sum(part.volume_ml or 0.0 for part in parts) if finish.mix else pour_up(volume_ml, marks)
    thin = coat.step.recipe.thin_pct / 100
    of_batch_ml = poured_ml if thin else min(poured_ml, pour_up(volume_ml, marks))  # else the thinner is too much

    def poured(amount_ml: float) -> MixPart:
        return MixPart(finish.title, amount_ml, _mass_g(amount_ml, finish.density_g_l, marks))

    return CoatMix(
        batches=batches,
        decant=poured(poured_ml),
        of_batch=poured(of_batch_ml),
        up_to_ml=max(pour_up(coat.needed_ml.high, marks), batches * poured_ml),
        parts=parts,
        thinner=_thinner(finish, poured_ml * thin, catalogue, units) if thin else None,
        use_within_h=None if pot_life_h is None else pot_life_h.low,
    )


def joint_parts(finish: Finish, mixes: Sequence[CoatMix], marks: Measuring) -> tuple[MixPart, ...]:
    """Return the components of one batch for several coats; none of what comes ready, or stands made up."""
    return _parts(finish, sum(mix.of_batch.volume_ml or 0.0 for mix in mixes), marks)


def batches_of(coat: CoatNeed, pot_life_h: Range | None) -> int:
    """Return in how many batches a coat is mixed whose mix can be worked for so long; None where it keeps."""
    if pot_life_h is None or pot_life_h.low <= 0:
        return 1
    return max(1, math.ceil(coat.hours.typical / pot_life_h.low - 1e-9))


def make_ups(
    coats: Sequence[CoatNeed], amounts_ml: dict[str, float], catalogue: Catalogue, units: Units
) -> tuple[MakeUp, ...]:
    """Return the solutions that are made up once for all coats, as those are that keep for weeks.

    Parameters
    ----------
    coats
        Every coat
    amounts_ml
        How much of each finish is to be there. [ml]
    catalogue, units
        Where the recipes are, and whose cups are used
    """
    marks = catalogue.measuring[units]
    solutions: list[MakeUp] = []
    for name in dict.fromkeys(coat.finish for coat in coats):
        finish = catalogue.finishes[name]
        recipe = finish.dissolve
        if recipe is None or not finish.bought_dry or recipe.pot_life_h is not None or amounts_ml[name] <= 0:
            continue
        volume_ml = pour_up(amounts_ml[name], marks)
        solid, liquid = _dissolved(finish, volume_ml, marks)
        strength = recipe.strength_g_l
        solutions.append(MakeUp(name, volume_ml, solid, liquid, strength, cut_of(strength), recipe.wait_h))
    return tuple(solutions)


def thinned_cut(coat: CoatNeed, finish: Finish) -> float | None:
    """Return the cut that is left where a dissolved finish is thinned; None where it is not. [lb/US gal]"""
    if finish.dissolve is None or not coat.step.recipe.thin_pct:
        return None
    recipe = finish.dissolve
    return cut_of(thinned_strength(recipe.strength_g_l, recipe.density_g_l.typical, coat.step.recipe.thin_pct))


def _parts(finish: Finish, volume_ml: float, marks: Measuring) -> tuple[MixPart, ...]:
    if finish.mix is not None:
        step_ml = mix_step_ml(min(components_ml(finish.mix, volume_ml)), marks)
        volumes_ml = in_ratio(finish.mix.shares, volume_ml, step_ml, marks.ratio_within_pct)
        return tuple(
            MixPart(part.name, one_ml, _mass_g(one_ml, part.density_g_l, marks))
            for part, one_ml in zip(finish.mix.components, volumes_ml, strict=True)
        )
    if finish.dissolve is None or not finish.bought_dry or finish.dissolve.pot_life_h is None:
        return ()
    return _dissolved(finish, pour_up(volume_ml, marks), marks)


def _dissolved(finish: Finish, volume_ml: float, marks: Measuring) -> tuple[MixPart, MixPart]:
    """Return solid and liquid for a volume of a solution, the liquid as a cup shows it and the solid weighed to it."""
    recipe = finish.dissolve
    if recipe is None:
        msg = f"{finish.title} is not dissolved"
        raise ValueError(msg)
    liquid_ml = volume_ml * solution_of(recipe).liquid_share
    liquid_ml = up(liquid_ml, mix_step_ml(liquid_ml, marks))
    solid_g = recipe.strength_g_l * liquid_ml / 1000
    loose_ml = (
        None if recipe.loose_g_l is None else up(solid_g / recipe.loose_g_l.typical * 1000, mix_step_ml(0, marks))
    )
    liquid = MixPart(recipe.liquid.replace("-", " "), liquid_ml, None)
    return MixPart(recipe.solid, loose_ml, weighed(solid_g, marks)), liquid


def _thinner(finish: Finish, volume_ml: float, catalogue: Catalogue, units: Units) -> MixPart:
    marks = catalogue.measuring[units]
    measured_ml = up(volume_ml, mix_step_ml(volume_ml, marks))
    solvent = catalogue.solvents.get(finish.thinner_solvent or "")
    name = (finish.thinner or "thinner").partition(",")[0]
    density_g_l = solvent.density_g_l if solvent else None
    weighed_g = _mass_g(volume_ml, density_g_l, marks)
    if weighed_g and measured_ml > volume_ml * (1 + marks.thin_within_pct / 100) + 1e-9:
        return MixPart(name, None, weighed_g)  # the least mark of a cup is many times as much
    return MixPart(name, measured_ml, _mass_g(measured_ml, density_g_l, marks))


def _mass_g(volume_ml: float, density_g_l: Range | None, marks: Measuring) -> float | None:
    return None if density_g_l is None else weighed(volume_ml * density_g_l.typical / 1000, marks)
