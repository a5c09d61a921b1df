"""Units: what a number of one is multiplied by to be in the unit of its kind. The only module that knows pint.

What people write every day is looked up in ``unit-scales.json``, which pint made (``tests/unit_scales.py``), so that a
file in common units is read without loading it.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from finplan.problems import nearest, shown
from finplan.quantity.kinds import LENGTH, PLAIN, Kind, QuantityError

if TYPE_CHECKING:
    import pint

MAX_TEXT = 80
"""No quantity that a person writes is longer; a longer one is not looked into."""
_UNIT = re.compile(r"°?[^\W\d]+[23]?(?:/[^\W\d]+[23]?)?")


@cache
def _known_scales() -> dict[str, dict[str, list[str]]]:
    """Return the scales of common units, as pint has them: by the unit of the kind, then by what is written."""
    scales: dict[str, dict[str, list[str]]] = json.loads(
        Path(__file__).with_name("unit-scales.json").read_text(encoding="utf-8")
    )
    return scales


@cache
def common_units(kind: Kind) -> tuple[str, ...]:
    """Return what people write for the units of *kind*."""
    return tuple(_known_scales()[kind.unit])


@cache
def scale_of(unit: str, kind: Kind) -> tuple[Fraction, Fraction]:
    """Return what a number of *unit* is multiplied by, and what is then added, to be in the unit of its kind.

    Raises
    ------
    QuantityError
        The unit is unknown or of another kind.
    """
    scales = _known_scales()
    known = scales[kind.unit].get(f" {unit}".replace(" per ", "/").strip())
    if known:
        return Fraction(known[0]), Fraction(known[1])
    if kind in PLAIN and any(unit in scales[other.unit] for other in PLAIN):
        raise _of_another_kind(unit, kind)
    return _reckoned_scale(unit, kind)


def _reckoned_scale(unit: str, kind: Kind) -> tuple[Fraction, Fraction]:
    """Return the same as pint reckons it from ``units.txt``."""
    pint_unit, registry = _unit(unit, kind), _registry()
    zero, one = (Fraction(registry.Quantity(Fraction(n), pint_unit).to(kind.unit).magnitude) for n in (0, 1))
    return one - zero, zero


@cache
def _unit(text: str, kind: Kind) -> pint.Unit:
    """Return the unit that *text* names, or raise QuantityError if it is unknown or of another kind."""
    import pint

    registry = _registry()
    expression = _unit_expression(text)
    for candidate in (expression, expression.lower() if expression else None):
        if candidate is None:
            continue
        try:
            unit = registry.Unit(candidate)
        except (pint.PintError, ValueError, TypeError, KeyError):
            continue
        if unit.dimensionality != registry.Unit(kind.unit).dimensionality:
            raise _of_another_kind(text, kind)
        return unit
    near = nearest(text, _known_units(kind), cutoff=0.7)
    hint = f"did you mean '{near.replace('_', ' ')}'?" if near else f"expected {kind.name} such as {kind.example}"
    msg = f"unit {shown(text)} is unknown"
    raise QuantityError(msg, hint)


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("units.txt")), non_int_type=Fraction)


@cache
def _known_units(kind: Kind) -> tuple[str, ...]:
    """Return the names of the units of *kind* that are one word."""
    registry = _registry()
    wanted = registry.Unit(kind.unit).dimensionality
    words = [name for name in registry._units if name.isidentifier() and not name.startswith(("delta", "Δ"))]
    return tuple(name for name in words if registry.Unit(name).dimensionality == wanted)


def _unit_expression(text: str) -> str | None:
    """Return *text* as an expression for pint, or None where it is not the form of a unit at all."""
    plain = " ".join(text.replace(".", "").split())
    plain = plain.replace("°", "deg")
    plain = {'"': "inch", "″": "inch", "”": "inch", "''": "inch", "'": "foot", "′": "foot", "’": "foot"}.get(
        plain, plain
    )
    plain = closed_strokes(plain)
    plain = re.sub(r"^(per\s+|/)", "1/", plain).replace(" per ", "/").replace(" ", "_")
    if plain.startswith("1/"):
        return f"1/{_powers(plain[2:])}" if _UNIT.fullmatch(plain[2:]) else None
    if plain == "%":
        return "percent"
    return _powers(plain) if _UNIT.fullmatch(plain) else None


def _powers(unit: str) -> str:
    return re.sub(r"([23])(?=/|$)", r"**\1", unit)


def _of_another_kind(unit: str, kind: Kind) -> QuantityError:
    wrong = f"'{unit}' is not a unit of {kind.name.removeprefix('a ').removeprefix('an ')}"
    return QuantityError(wrong, f"expected {kind.name} such as {kind.example}")


def closed_strokes(text: str) -> str:
    """Return a text without space around its strokes."""
    return "/".join(part.strip() for part in text.split("/"))


def known_length_unit(text: object) -> bool:
    """Return whether *text* names a unit of length."""
    if not isinstance(text, str) or len(text) > MAX_TEXT:
        return False
    try:
        scale_of(text.strip(), LENGTH)
    except QuantityError:
        return False
    return True
