"""What a coat is of, how it was put on, how much of it, on what wood and over what."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from finplan.catalogue import Finish, PlanFact, Timber
from finplan.faults.evidence import BornOut, Evidence
from finplan.faults.scene import Scene
from finplan.ledger import Tick
from finplan.system import putting_on_hours, two_sides


def _thicker(scene: Scene) -> Evidence:
    """Compare what was used with what the coat was planned to take."""
    used = [_used_ml(scene, coat.id) for coat in scene.coats]
    need = scene.to_take(scene.step.id)
    if need is None or any(taken_ml is None for taken_ml in used) or not used:
        planned = None if need is None else need.wet_ml.typical
        return Evidence("thicker", "possible", limit=planned)
    ml = sum(taken_ml for taken_ml in used if taken_ml is not None)
    typical, most = need.wet_ml.typical, need.wet_ml.high
    standing: BornOut = "found" if ml > most else "excluded" if ml <= typical else "possible"
    return Evidence("thicker", standing, ml, most if ml > most else typical, recorded=True)


def _used_ml(scene: Scene, operation: str) -> float | None:
    """Return what was used for a coat; of an entry for several its share by what they were to take. [ml]"""
    entry = next((tick for tick in reversed(scene.entries) if operation in tick.steps and _told(scene, tick)), None)
    ml = None if entry is None else _told(scene, entry)
    if entry is None or ml is None:
        return None
    shares = {step: _planned_ml(scene, step) for step in entry.steps}
    whole = sum(shares.values())
    return None if not whole else ml * shares.get(operation, 0.0) / whole


def _told(scene: Scene, entry: Tick) -> float | None:
    grams, density = entry.weighed_g, scene.finish.density_g_l
    if entry.used_ml is not None or grams is None or density is None:
        return entry.used_ml
    return grams / density.typical * 1000


def _planned_ml(scene: Scene, operation: str) -> float:
    coat = scene.every.get(operation)
    if coat is None or coat.finish is None or coat.of_step is None:
        return 0.0
    need = scene.to_take(coat.of_step)
    if need is None:
        return 0.0
    sides = [side for side in scene.every.values() if side.of_step == coat.of_step and side.finish is not None]
    return need.wet_ml.typical / max(1, len(sides))


def _sprayed(scene: Scene) -> Evidence:
    sprays = scene.catalogue.methods[scene.step.method].use == "spraying"
    return Evidence("sprayed", "possible" if sprays else "excluded", names=(scene.step.method,))


def _wiped_off(scene: Scene) -> Evidence:
    wipe = scene.finish.wiped_after_h(scene.catalogue.methods[scene.step.method])
    if wipe is None:
        return Evidence("wiped-off", "excluded")
    thick = _thicker(scene)
    standing: BornOut = "found" if thick.standing == "found" else "possible"
    return Evidence("wiped-off", standing, wipe.low, wipe.high, recorded=thick.standing == "found")


def _upright(scene: Scene) -> Evidence:
    turned = two_sides(scene.treatment, scene.step, scene.catalogue) is not None
    shaped = tuple(dict.fromkeys(group.part for group in scene.step.groups if group.kind == "profile"))
    if turned:
        return Evidence("upright", "excluded", names=shaped)
    return Evidence("upright", "possible", names=shaped if shaped else scene.treatment.parts)


def _end_grain(scene: Scene) -> Evidence:
    share = sum(group.end_grain_m2 for group in scene.step.groups) / scene.step.area_m2
    least = scene.catalogue.fault_causes["end-grain"].least_pct / 100
    return Evidence("end-grain", "found" if share >= least else "excluded", share)


def _large(scene: Scene) -> Evidence:
    """Compare how long the coat takes to put on with how long it stays wet, in standard air."""
    method = scene.catalogue.methods[scene.step.method]
    hours = putting_on_hours(scene.treatment, scene.step, method, None)
    wiped_after_h = scene.finish.wiped_after_h(method)
    wet_h = scene.finish.touch_dry_h.low if wiped_after_h is None else wiped_after_h.high
    standing: BornOut = "found" if hours.typical > wet_h else "excluded" if hours.high < wet_h else "possible"
    return Evidence("large", standing, hours.typical, wet_h)


def _mixed(scene: Scene) -> Evidence:
    of_two = scene.finish.mix is not None or scene.finish.dissolve is not None
    life = scene.finish.pot_life_h
    return Evidence("mixed", "possible" if of_two else "excluded", limit=None if life is None else life.typical)


def _thinned(scene: Scene) -> Evidence:
    share = scene.step.recipe.thin_pct
    can_be = share > 0 or scene.finish.thinner is not None
    return Evidence("thinned", "possible" if can_be else "excluded", share)


def _under(fact: PlanFact, scene: Scene, holds: Callable[[str, Finish], bool]) -> Evidence:
    layers = [name for name in scene.layers if holds(name, scene.catalogue.finishes[name])]
    return Evidence(fact, "found" if layers else "excluded", names=tuple(dict.fromkeys(layers)))


def _over_oil(scene: Scene) -> Evidence:
    own = scene.step.finish
    return _under("over-oil", scene, lambda name, finish: finish.oxidises and name != own)


def _over_colour(scene: Scene) -> Evidence:
    return _under("over-colour", scene, lambda _, finish: finish.family in ("dye", "stain"))


def _over_waxed(scene: Scene) -> Evidence:
    return _under("over-waxed", scene, lambda _, finish: finish.waxed or finish.stearated or finish.family == "wax")


def _of_timber(fact: PlanFact, holds: Callable[[Timber], bool]) -> Callable[[Scene], Evidence]:
    def asked(scene: Scene) -> Evidence:
        timbers = tuple(name for name, timber in scene.timbers.items() if holds(timber))
        return Evidence(fact, "found" if timbers else "excluded", names=timbers or tuple(scene.timbers))

    return asked


def _water_on_bare(scene: Scene) -> Evidence:
    raised = any(step.do == "raise-grain" for step in scene.treatment.steps)
    standing: BornOut = "found" if scene.step.bare and scene.finish.raises_grain and not raised else "excluded"
    return Evidence("water-on-bare", standing)


def _veneer(scene: Scene) -> Evidence:
    thin = [group.veneer_mm for group in scene.step.groups if group.veneer_mm is not None]
    return Evidence("veneer", "found" if thin else "excluded", min(thin, default=None))


THING_FACTS: Mapping[PlanFact, Callable[[Scene], Evidence]] = {
    "none": lambda _: Evidence("none", "possible"),
    "thicker": _thicker,
    "sprayed": _sprayed,
    "wiped-off": _wiped_off,
    "upright": _upright,
    "end-grain": _end_grain,
    "large": _large,
    "mixed": _mixed,
    "thinned": _thinned,
    "over-oil": _over_oil,
    "over-colour": _over_colour,
    "over-waxed": _over_waxed,
    "tannin": _of_timber("tannin", lambda timber: timber.tannin in ("medium", "high")),
    "resinous": _of_timber("resinous", lambda timber: timber.resinous),
    "oily-timber": _of_timber("oily-timber", lambda timber: timber.oily),
    "blotching": _of_timber("blotching", lambda timber: timber.blotches),
    "open-pores": _of_timber("open-pores", lambda timber: timber.open_pored),
    "water-on-bare": _water_on_bare,
    "veneer": _veneer,
}
"""What is asked of the coat itself, by the fact."""
