"""Points as they are written in a file: two lengths in square brackets."""

from __future__ import annotations

from finplan import quantity
from finplan.problems import Where, shown
from finplan.quantity import QuantityError
from finplan.reading import MAX_LENGTH_MM, fail


def pair_mm(value: object, bare_unit: str | None, path: Where, meant: str = "[x, y]") -> tuple[float, float]:
    """Return the two lengths of a point, each of either sign. [mm]

    Parameters
    ----------
    value
        What stands in the file
    bare_unit
        The unit of a bare number
    path
        Where it stands
    meant
        How such a point is written

    Raises
    ------
    PydanticCustomError
        By way of ``fail``: it is no point, or further out than any furniture.
    """
    if not isinstance(value, list) or len(value) != 2:
        fail("this is not a point", f"expected {meant}{_comma_hint(value)}", path)
    first, second = (coordinate_mm(number, bare_unit, (*path, index)) for index, number in enumerate(value))
    return first, second


def coordinate_mm(value: object, bare_unit: str | None, path: Where) -> float:
    """Return a length of either sign; raises as ``pair_mm``. [mm]"""
    try:
        number = quantity.read_quantity(value, quantity.LENGTH, bare_unit=bare_unit)
    except QuantityError as error:
        fail(error.wrong, error.expected, path)
    if abs(number) > MAX_LENGTH_MM:
        fail(f"{shown(value)} is too large", f"expected at most {MAX_LENGTH_MM / 1000:g} m", path)
    return number


def _comma_hint(value: object) -> str:
    """Return the hint for a number that was written with a comma, which made two of it."""
    if isinstance(value, list) and len(value) == 3 and all(type(number) is int for number in value[1:]):
        return f"; is it a comma in a number? Write {value[1]}.{value[2]}"
    return ""
