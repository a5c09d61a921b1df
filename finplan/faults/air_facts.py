"""The air in which a coat was put on and dried, against what its finish wants."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import timedelta

from finplan.catalogue import PlanFact
from finplan.faults.evidence import BornOut, Evidence
from finplan.faults.scene import AirThen, Scene

_NOT_KNOWN: BornOut = "possible"


def _colder(scene: Scene) -> Evidence:
    return _below("colder", scene.finish.apply.temperature_c.low, *_warmth(scene))


def _warmer(scene: Scene) -> Evidence:
    return _above("warmer", scene.finish.apply.temperature_c.high, *_warmth(scene))


def _damper(scene: Scene) -> Evidence:
    return _above("damper", scene.finish.apply.humidity_pct.high, *_damp(scene))


def _drier(scene: Scene) -> Evidence:
    return _below("drier", scene.finish.apply.humidity_pct.low, *_damp(scene))


def _warmth(scene: Scene) -> tuple[float | None, list[AirThen]]:
    """Return the temperature noted at the coat, and those while it was put on, in °C."""
    noted = None if scene.reading is None else scene.reading.air_c
    return noted, [] if scene.put_on is None else scene.warmth(*scene.put_on)


def _damp(scene: Scene) -> tuple[float | None, list[AirThen]]:
    """Return the relative humidity noted at the coat, and those while it was put on, in per cent."""
    noted = None if scene.damp_reading is None else scene.damp_reading.humidity_pct
    return noted, [] if scene.put_on is None else scene.damp(*scene.put_on)


def _below(fact: PlanFact, limit: float, noted: float | None, then: Sequence[AirThen]) -> Evidence:
    lowest = min(then, default=None, key=lambda air: (air.value, not air.measured))
    value = noted if noted is not None else None if lowest is None else lowest.value
    return _judged(fact, value, limit, value is not None and value < limit, noted, lowest, then)


def _above(fact: PlanFact, limit: float, noted: float | None, then: Sequence[AirThen]) -> Evidence:
    highest = max(then, default=None, key=lambda air: (air.value, air.measured))
    value = noted if noted is not None else None if highest is None else highest.value
    return _judged(fact, value, limit, value is not None and value > limit, noted, highest, then)


def _judged(
    fact: PlanFact,
    value: float | None,
    limit: float,
    outside: bool,
    noted: float | None,
    worst: AirThen | None,
    then: Sequence[AirThen],
) -> Evidence:
    """Return what air says: the shop file bears a cause out, but only readings of all the time rule one out."""
    read = worst is not None and (worst.measured if outside else all(air.measured for air in then))
    recorded = noted is not None or read
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
    return _below("cold-while-drying", limit, None, scene.warmth(on, until))


AIR_FACTS: Mapping[PlanFact, Callable[[Scene], Evidence]] = {
    "colder": _colder,
    "warmer": _warmer,
    "damper": _damper,
    "drier": _drier,
    "cold-while-drying": _cold_while_drying,
}
"""What is asked of the air, by the fact."""
