"""What was done when: before a coat was put on, beside it, and after it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta

from finplan.catalogue import PlanFact
from finplan.climate import time_by_thickness
from finplan.faults.evidence import BornOut, Evidence
from finplan.faults.scene import Scene
from finplan.timetable import Operation, settling_h


def _over_wet(scene: Scene) -> Evidence:
    """Compare how long the coat below had dried, in standard air, with what its label asks before another."""
    below = scene.below
    if below is None:
        return Evidence("over-wet", "excluded")
    asked_h = scene.catalogue.finishes[below.coated_with].recoat_h.typical * time_by_thickness(below.thickness)
    dried_h = _dried_h(scene, below, None if scene.put_on is None else scene.put_on[0])
    if dried_h is None or not scene.told_apart(below, scene.coats[0]):
        return Evidence("over-wet", "possible", limit=asked_h, names=(below.label,))
    recorded = below.id in scene.known.ticked and scene.recorded
    standing: BornOut = "found" if dried_h < asked_h * _NEARLY else "excluded"
    lay_h = _lay_h(scene, below, None if scene.put_on is None else scene.put_on[0])
    return Evidence("over-wet", standing, dried_h, asked_h, (below.label,), lay_h, recorded)


def _worked_wet(scene: Scene) -> Evidence:
    """Compare how long the coat had dried before anything was done on it with what its label asks."""
    coat, after = scene.coats[-1], scene.next_work
    asked_h = scene.finish.recoat_h.typical * time_by_thickness(coat.thickness)
    if after is None:
        return Evidence("worked-wet", "possible", limit=asked_h)
    dried_h = _dried_h(scene, coat, scene.begun(after))
    if dried_h is None or not scene.told_apart(coat, after):
        return Evidence("worked-wet", "possible", limit=asked_h, names=(after.label,))
    standing: BornOut = "found" if dried_h < asked_h * _NEARLY else "excluded"
    recorded = after.id in scene.known.ticked and scene.recorded
    return Evidence(
        "worked-wet", standing, dried_h, asked_h, (after.label,), _lay_h(scene, coat, scene.begun(after)), recorded
    )


_NEARLY = 0.98
"""Times are noted to some minutes: what is short by less is not short."""


def _dried_h(scene: Scene, coat: Operation, until: datetime | None) -> float | None:
    """Return how many hours of standard air a coat had dried until a moment; None where nothing says when."""
    drying, on = scene.drying(coat.coated_with), scene.ended(coat)
    if drying is None or on is None or until is None or scene.air is None:
        return None
    first = max(scene.minute(on), 0.0)
    return drying.passed_h(first, max(scene.minute(until), first), "through")


def _lay_h(scene: Scene, coat: Operation, until: datetime | None) -> float | None:
    """Return how long a coat lay until a moment, by the clock; None where nothing says. [h]"""
    on = scene.ended(coat)
    return None if on is None or until is None else max(0.0, (until - on) / timedelta(hours=1))


def _window_missed(scene: Scene) -> Evidence:
    """Compare when it was put on with the end of the window of the coat below, unless that was abraded between."""
    below = scene.below
    limit = None if below is None else scene.catalogue.finishes[below.coated_with].recoat_limit_h
    if below is None or limit is None:
        return Evidence("window-missed", "excluded")
    drying, on = scene.drying(below.coated_with), scene.ended(below)
    if scene.put_on is None or drying is None or on is None or not scene.told_apart(below, scene.coats[0]):
        return Evidence("window-missed", "possible", limit=limit.low, names=(below.label,))
    waited_h = (scene.put_on[0] - on) / timedelta(hours=1)
    recorded = below.id in scene.known.ticked and scene.recorded
    closes = drying.recoat_closes(scene.minute(on))
    missed = closes is not None and scene.minute(scene.put_on[0]) > closes
    abraded = _abraded_between(scene)
    standing: BornOut = "found" if missed and not abraded else "excluded"
    return Evidence("window-missed", standing, waited_h, limit.low, (below.label, *abraded), recorded=recorded)


def _abraded_between(scene: Scene) -> tuple[str, ...]:
    """Return what abraded the coat below, as far as is known: ticked, or planned where this coat is not on record."""
    again = [coat.again for coat in scene.coats if coat.again is not None and coat.again.id in scene.known.ticked]
    dusty = [operation for operation in (*again, *scene.of_steps(scene.between)) if operation.makes_dust]
    counted = [operation for operation in dusty if operation.id in scene.known.ticked or not scene.recorded]
    return tuple(dict.fromkeys(operation.label for operation in counted))


def _not_abraded(scene: Scene) -> Evidence:
    below = scene.below
    if below is None:
        return Evidence("not-abraded", "excluded")
    melts_in = scene.catalogue.finishes[below.coated_with].recoat_limit_h is None
    abraded = _abraded_between(scene)
    planned = [step.label for step in scene.between if step.do in ("abrade", "rub-out", "sand")]
    if abraded:
        return Evidence("not-abraded", "excluded", names=abraded, recorded=scene.recorded)
    if planned:
        return Evidence("not-abraded", "found", names=tuple(planned), recorded=True)
    if melts_in:
        return Evidence("not-abraded", "excluded", 0.0, names=(below.label,))
    return Evidence("not-abraded", "possible", names=(below.label,))


def _skipped(scene: Scene) -> Evidence:
    """Return which steps before this coat are not ticked themselves, though it is."""
    if not scene.recorded:
        return Evidence("skipped", "possible")
    at = scene.treatment.steps.index(scene.step)
    before = scene.of_steps(scene.treatment.steps[:at])
    lacking = tuple(dict.fromkeys(operation.label for operation in before if operation.id not in scene.known.ticked))
    return Evidence("skipped", "found" if lacking else "excluded", names=lacking, recorded=True)


def _sanded_beside(scene: Scene) -> Evidence:
    """Return what was sanded so shortly before this coat, or while it was wet, that its dust was in the air."""
    shop, use = scene.plan.shop, scene.coats[0].room_use
    settles_h = settling_h(shop, scene.catalogue, "spraying" if use == "spraying" else "coating")
    if settles_h == 0:
        return Evidence("sanded-beside", "excluded")
    if scene.put_on is None:
        return Evidence("sanded-beside", "possible", limit=settles_h)
    begun, ended = scene.put_on
    wet_until = ended + timedelta(hours=scene.finish.surface_dry_h)
    nearest: tuple[float, Operation] | None = None
    for operation in scene.every.values():
        stopped, started = scene.ended(operation), scene.begun(operation)
        if not operation.makes_dust or stopped is None or started is None or started >= wet_until:
            continue
        if not scene.told_apart(operation, scene.coats[0]):
            continue
        gap_h = max(0.0, (begun - stopped) / timedelta(hours=1))
        if stopped <= scene.known.now and (nearest is None or gap_h < nearest[0]):
            nearest = gap_h, operation
    if nearest is None or nearest[0] >= settles_h:
        value = None if nearest is None else nearest[0]
        return Evidence("sanded-beside", "possible", value, settles_h)
    recorded = nearest[1].id in scene.known.ticked and scene.recorded
    return Evidence("sanded-beside", "found", nearest[0], settles_h, (nearest[1].label,), recorded=recorded)


def _sanded_after(scene: Scene) -> Evidence:
    at = scene.treatment.steps.index(scene.step)
    later = [step for step in scene.of_steps(scene.treatment.steps[at + 1 :]) if step.makes_dust]
    done = [operation for operation in later if operation.id in scene.known.done or operation.id == scene.operation.id]
    if not done:
        return Evidence("sanded-after", "excluded" if scene.recorded else "possible")
    recorded = done[0].id in scene.known.ticked
    return Evidence("sanded-after", "found", names=(done[0].label,), recorded=recorded)


TIME_FACTS: Mapping[PlanFact, Callable[[Scene], Evidence]] = {
    "over-wet": _over_wet,
    "worked-wet": _worked_wet,
    "window-missed": _window_missed,
    "not-abraded": _not_abraded,
    "skipped": _skipped,
    "sanded-beside": _sanded_beside,
    "sanded-after": _sanded_after,
}
"""What is asked of what was done when, by the fact."""
