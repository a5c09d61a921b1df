"""Types of fields whose values have to be divided by, or lie where nature puts them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from finplan.problems import shown
from finplan.quantity import (
    AREA,
    CONCENTRATION,
    DURATION,
    FLOW,
    LENGTH,
    VOLUME,
    Kind,
    QuantityError,
    Range,
    read_quantity,
    read_range,
)
from finplan.reading import Form, Reads, fail


def _within(kind: Kind, low: float, high: float, factor: float, example: str) -> Callable[[object], Range]:
    """Return a reader of ranges whose three values lie between two limits, in the unit of the kind times *factor*."""

    def validate(value: object) -> Range:
        if isinstance(value, Range):
            return value
        try:
            range_ = read_range(value, kind)
        except QuantityError as error:
            fail(error.wrong, f"expected {kind.name} such as {example}")
        if not low <= range_.low <= range_.high <= high:
            unit = kind.unit.replace("**", "")
            fail(f"{shown(value)} is out of range", f"expected {low:g} to {high:g} {unit}, such as {example}")
        return range_.scaled(factor)

    return validate


def _strength(value: object) -> float:
    try:
        strength_g_l = read_quantity(value, CONCENTRATION)
    except QuantityError as error:
        fail(error.wrong, error.expected)
    if not 0.01 <= strength_g_l <= 5000:
        fail(f"{shown(value)} is out of range", "expected 0.01 to 5000 g/l, such as 240 g/l or 2 lb/gal")
    return strength_g_l


DensityRange = Annotated[
    Range,
    Reads(_within(CONCENTRATION, 10, 25_000, 1.0, "880/920/960 g/l")),
    Form("a density or three, low/typical/high: 880/920/960 g/l"),
]
StrengthGL = Annotated[float, Reads(_strength), Form("mass of solid to a litre of liquid: 240 g/l or 2 lb/gal")]
AreaRange = Annotated[
    Range,
    Reads(_within(AREA, 0, 100, 1.0, "0.05/0.1/0.15 m2")),
    Form("an area or three, low/typical/high: 0.05/0.1/0.15 m2"),
]
DryFilmRange = Annotated[
    Range,
    Reads(_within(LENGTH, 1e-3, 2.0, 1000.0, "30/40/50 um")),
    Form("a thickness or three, low/typical/high: 30/40/50 um or 1.2/1.6/2 mil"),
]
"""In µm; lengths are read in mm."""
FlowRange = Annotated[
    Range,
    Reads(_within(FLOW, 1, 1e5, 1.0, "180/270/360 m3/h")),
    Form("a flow of air or three, low/typical/high: 3/4.5/6 m3/min"),
]
RoomM3Range = Annotated[
    Range,
    Reads(_within(VOLUME, 1e6, 1e11, 1e-6, "30/60/120 m3")),
    Form("the air of a room or of three, low/typical/high: 30/60/120 m3"),
]
"""In m³; volumes are read in ml."""
LifeHRange = Annotated[
    Range,
    Reads(_within(DURATION, 1e-3, 1e5, 1.0, "4/8/8 h")),
    Form("hours in use or three, low/typical/high: 4/8/8 h"),
]
