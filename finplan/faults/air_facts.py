"""The air in which a coat was put on and dried, against what its finish wants."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import timedelta

from finplan.catalogue import PlanFact
from finplan.climate import Air
from finplan.faults.evidence import BornOut, Evidence
from finplan.faults.scene import Scene

_NOT_KNOWN: BornOut = "possible"


def _colder(scene: Scene) -> Evidence:
    return _below("colder", scene.finish.apply.temperature_c.low, *_warmth(scene))


def _warmer(scene: Scene) -> Evidence:
    return _above("warmer", scene.finish.apply.temperature_c.high, *_warmth(scene))


def _damper(scene: Scene) -> Evidence:
    return _above("damper", scene.finish.apply.humidity_pct.high, *_damp(scene))


def _drier(scene: Scene) -> Evidence:
    return _below("drier", scene.finish.apply.humidity_pct.low, *_damp(scene))


def _warmth(scene: Scene) -> tuple[float | None, list[float]]:
    """Return the temperature noted at the coat, and those of the shop while it was put on, in °C."""
    noted = None if scene.reading is None else scene.reading.air_c
    return noted, [air.temperature_c for air in _airs(scene)]


def _damp(scene: Scene) -> tuple[float | None, list[float]]:
    """Return the relative humidity noted at the coat, and those of the shop while it was put on, in per cent."""
    noted = None if scene.damp_reading is None else scene.damp_reading.humidity_pct
    return noted, [air.humidity_pct for air in _airs(scene)]


def _airs(scene: Scene) -> Sequence[Air]:
    return () if scene.put_on is None else scene.airs(*scene.put_on)


def _below(fact: PlanFact, limit: float, noted: float | None, usual: Sequence[float]) -> Evidence:
    value = noted if noted is not None else min(usual, default=None)
    return _judged(fact, value, limit, value is not None and value < limit, recorded=noted is not None)


def _above(fact: PlanFact, limit: float, noted: float | None, usual: Sequence[float]) -> Evidence:
    value = noted if noted is not None else max(usual, default=None)
    return _judged(fact, value, limit, value is not None and value > limit, recorded=noted is not None)


def _judged(fact: PlanFact, value: float | None, limit: float, outside: bool, *, recorded: bool) -> Evidence:
    """Return what air says: the shop file bears a cause out, but only a reading rules one out."""
    standing: BornOut = "found" if outside else "excluded" if recorded else _NOT_KNOWN
    return Evidence(fact, standing, value, limit, recorded=recorded)


def _cold_while_drying(scene: Scene) -> Evidence:
    """Compare the coldest air from when it was on until it should have been dry, or until now, with what it wants."""
    finish = scene.finish
    limit = finish.apply.temperature_c.low if finish.film is None else finish.film.above_c
    drying = scene.drying(scene.step.finish)
    if scene.put_on is None or drying is None:
        return Evidence("cold-while-drying", _NOT_KNOWN, limit=limit)
    on = scene.put_on[1]
    until = on + timedelta(hours=finish.recoat_h.typical)
    if on < scene.known.now:
        until = max(on + timedelta(hours=1), min(until, scene.known.now))
    coldest = min((air.temperature_c for air in scene.airs(on, until)), default=None)
    recorded = scene.measured(on, until)
    outside = coldest is not None and coldest < limit
    return _judged("cold-while-drying", coldest, limit, outside, recorded=recorded)


AIR_FACTS: Mapping[PlanFact, Callable[[Scene], Evidence]] = {
    "colder": _colder,
    "warmer": _warmer,
    "damper": _damper,
    "drier": _drier,
    "cold-while-drying": _cold_while_drying,
}
"""What is asked of the air, by the fact."""
