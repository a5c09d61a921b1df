"""What is said of a bend: the size by which it was given, and its radius."""

from __future__ import annotations

from finplan.drawing.lettering import said, size
from finplan.drawing.told import told, told_of
from finplan.inputs.shapes import Bend
from finplan.quantity import Units


def bend_words(bend: Bend | None, radius_mm: float, units: Units) -> str:
    """Return a bend in words."""
    if bend is None or bend.rise_mm is None:
        return f"a radius of {said(radius_mm, units=units)}"
    return f"a rise of {said(bend.rise_mm, units=units)}"


def bend_size(bend: Bend | None, radius_mm: float, units: Units) -> str:
    """Return a bend as a drawing gives it."""
    shown = size(radius_mm, units)
    if bend is None:
        return told_of("R", told(shown, "radius"))
    if bend.rise_mm is None:
        return told_of("R", told(shown, "bend", "radius"))
    return told_of("rise ", told(size(bend.rise_mm, units), "bend", "rise"), f" (R{shown})")
