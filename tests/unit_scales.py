"""The scales of units that people write, as the unit library gives them: ``finplan/quantity/unit-scales.json``.

Run as a program, it writes the file; a test holds the file to the library. What is not in it is asked of the library
itself, which takes a third of a second to load.
"""

from __future__ import annotations

import json
from itertools import product

from finplan import quantity
from finplan.quantity import Kind
from finplan.quantity import scales as library
from tests.readme import ROOT

FILE = ROOT / "finplan" / "quantity" / "unit-scales.json"
_VOLUMES = (
    "l",
    "L",
    "litre",
    "liter",
    "ml",
    "gal",
    "gallon",
    "US gal",
    "US gallon",
    "qt",
    "quart",
    "US quart",
    "imp gal",
)
_MASSES = ("g", "kg", "mg", "lb", "oz")
_TIMES = ("s", "min", "h", "hour", "d")
_AREAS = ("m2", "cm2", "mm2", "ft2", "in2", "sq ft", "sq m")
_LENGTHS = ("mm", "cm", "m", "in", "ft", "yd")
_SPACES = ("m3", "ft3", "cu ft", "cu m", "cm3", "mm3", "in3")
COMPOUND: dict[Kind, tuple[tuple[str, ...], tuple[str, ...]]] = {
    quantity.FLOW: (("m3", "ft3", "cu ft", "cu m", "l", "L"), _TIMES),
    quantity.SPREAD_RATE: (_AREAS, _VOLUMES),
    quantity.CONCENTRATION: (_MASSES, (*_VOLUMES, "m3")),
    quantity.VELOCITY: (_LENGTHS, _TIMES),
    quantity.SPEED: (_AREAS, _TIMES),
    quantity.MASS_PER_TIME: (_MASSES, _TIMES),
    quantity.PER_AREA: (("",), _AREAS),
    quantity.MOLAR_MASS: (_MASSES, ("mol",)),
    quantity.MASS_IN_AIR: (_MASSES, ("m3", "l", "L")),
}
"""What people set above and below the stroke, of kinds whose units have one."""
MORE: dict[Kind, tuple[str, ...]] = {
    quantity.LENGTH: ('"', "'", "″", "′", "”", "’", "''", "in.", "ft."),
    quantity.AREA: (*_AREAS, "yd2"),
    quantity.VOLUME: (*_SPACES, "fl. oz."),
    quantity.TEMPERATURE: ("°C", "°F", "° C", "° F"),
    quantity.PERCENTAGE: ("%", "per cent"),
}
"""What people write beside the names themselves."""


def kinds() -> list[Kind]:
    """Return every kind of quantity."""
    return [one for one in vars(quantity).values() if isinstance(one, Kind)]


def texts(kind: Kind) -> list[str]:
    """Return what people write for units of a kind."""
    names = library._known_units(kind)
    above, below = COMPOUND.get(kind, ((), ()))
    strokes = [f"{one}/{other}" for one, other in product(above, below)]
    found = [*names, *(name.replace("_", " ") for name in names), *MORE.get(kind, ()), *strokes]
    return sorted(dict.fromkeys(found))


def scales() -> dict[str, dict[str, list[str]]]:
    """Return by the unit of a kind, and then by what is written, its factor and what is added, as exact fractions."""
    found: dict[str, dict[str, list[str]]] = {}
    for kind in kinds():
        of_kind = found.setdefault(kind.unit, {})
        for text in texts(kind):
            try:
                of_kind[text] = [str(part) for part in library._reckoned_scale(text, kind)]
            except quantity.QuantityError:
                continue  # a name that only the library uses, or one that no person may write so
    return found


def written() -> str:
    """Return the file as it ought to be, a unit on a line."""
    kinds_of_units = []
    for unit, of_kind in sorted(scales().items()):
        lines = [f"  {json.dumps(text, ensure_ascii=False)}: {json.dumps(parts)}" for text, parts in of_kind.items()]
        kinds_of_units.append(f"{json.dumps(unit)}: {{\n" + ",\n".join(lines) + "\n}")
    return "{\n" + ",\n".join(kinds_of_units) + "\n}\n"


if __name__ == "__main__":
    FILE.write_text(written(), encoding="utf-8")
