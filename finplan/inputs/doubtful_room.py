"""Rooms that hold nobody, and shops in which water freezes while somebody works there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from finplan.inputs.climate import Climate
from finplan.problems import Finding

_WATER_FREEZES_C = 0.0
"""At the pressure of the air: physics, no value of the trade."""
_ML_PER_M3 = 1e6


def doubtful_rooms(volumes_ml: Mapping[str, float | None], climate: Climate, *, least_ml: float) -> Iterator[Finding]:
    """Give a warning for every room with less air than *least_ml*, and for a shop that freezes by day."""
    for name, volume_ml in volumes_ml.items():
        if volume_ml is not None and volume_ml < least_ml:
            wrong = f"a room of {volume_ml / _ML_PER_M3:.2g} m³ holds nobody at work"
            expected = "expected its length x width x height, such as 60 m3 or 2100 ft3"
            yield Finding(("rooms", name, "volume"), wrong, expected, severity="warning", name="unlikely-room")
    if climate.day is not None and climate.day.temperature_c < _WATER_FREEZES_C:
        wrong = f"{climate.day.temperature_c:.0f} °C by day is below freezing"
        where = ("climate", "day", "temperature")
        expected = "expected how warm the shop is while somebody works there, in degC or degF"
        yield Finding(where, wrong, expected, severity="warning", name="unlikely-room")
