"""What a part of each shape is begun with, for somebody who changes its sizes at once. Invented round sizes."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from pathlib import Path

from finplan.catalogue import bundled_catalogue
from finplan.drawing import piece_drawings
from finplan.inputs import Known, piece_from
from finplan.quantity import MM_PER_IN
from finplan.reading import document_of

_STARTS: dict[str, dict[str, str]] = {
    "rectangle": {"length": "800", "width": "500", "thickness": "22"},
    "disc": {"diameter": "600", "thickness": "25"},
    "ellipse": {"length": "900", "width": "600", "thickness": "25"},
    "stadium": {"length": "1000", "width": "450", "thickness": "25"},
    "polygon": {"sides": "6", "across-flats": "500", "thickness": "25"},
    # By points, each of which is a field of the page; a path would be one text that nobody edits by hand.
    "outline": {
        "points": "[{corner: [0, 0]}, {corner: [600, 0]}, {corner: [600, 300]}, [300, 360], {corner: [0, 300]}]",
        "smooth": "true",
        "thickness": "22",
    },
    "board": {"length": "600", "width": "100", "thickness": "20"},
    "square-leg": {"side": "45", "length": "420"},
    "turned": {"elements": "[{block: {side: 60, length: 120}}, {bead: {diameter: 56, neck: 44, length: 20}}, "
               "{taper: {from: 44, to: 28, length: 480}}]"},
    "rod": {"diameter": "28", "length": "700"},
    "moulding": {"profile": "[[0, 0], [18, 0], {arc: [40, 22], rise: 6}, [40, 60], [0, 60]]", "length": "900"},
    "carcase": {"width": "800", "height": "900", "depth": "350", "thickness": "19", "back": "6", "shelves": "2"},
    "drawer": {"width": "400", "height": "120", "depth": "450", "thickness": "14", "bottom": "6"},
    "door": {"width": "450", "height": "700", "thickness": "21", "frame": "{stile: 60, rail: 70}",
             "panel": "{thickness: 12}"},
    "measured": {"faces": "{surface: {area: 0.5 m2}}"},
}  # fmt: skip
_ELEMENTS = {
    "block": "{side: 60, length: 80}", "cylinder": "{diameter: 40, length: 60}", "fillet": "{diameter: 48, length: 6}",
    "taper": "{from: 40, to: 30, length: 100}", "bead": "{diameter: 52, neck: 42, length: 18}",
    "cove": "{diameter: 32, rim: 42, length: 18}", "curve": "{points: [[0, 42], [60, 54], [150, 36]]}",
}  # fmt: skip
_FIELDS: dict[str, str] = {
    "edge": "{top: roundover 3, bottom: chamfer 2}", "hole": "{diameter: 60}", "corners": "20", "arch": "{rise: 15}",
    "bend": "{rise: 18}", "grooves": "[{face: back, width: 4, depth: 6}]", "arris": "roundover 2", "back": "6",
    "bottom": "6", "shelves": "1", "front": "closed", "smooth": "true", "frame": "{stile: 60, rail: 70}",
    "panel": "{thickness: 12}", "raised": "40 x 8", "veneer": "0.6", "grain": "width", "surface": "sawn",
    "start-grit": "P120", "stop-grit": "P180", "less": "[100 x 20]", "coats": "1",
}  # fmt: skip
_TAPERS = {"board": "{to: 60}", "square-leg": "{to: 28}", "rod": "{to: 20}"}
_LENGTHS = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?(?![\w.%])")
_NO_LENGTHS = ("shelves", "start-grit", "stop-grit", "coats", "front", "grain", "surface", "smooth")
_BARE = ("sides", "shelves", "smooth", "faces")
_EIGHTHS, _FINE = 8, 32
_SMALL_MM = 12.0
"""Of an inch's parts: what is shorter is told finer."""


def starting_shapes() -> tuple[str, ...]:
    """Return the shapes that a part can be begun with; a mesh is a file that is named in the text."""
    return tuple(_STARTS)


def starting_fields(shape: str, lengths: str | None) -> dict[str, str]:
    """Return the fields of a new part of a shape, in the unit that the file's bare numbers have.

    Raises
    ------
    KeyError
        There is no such shape to begin with.
    """
    fields = {name: text if name in _BARE else _in_unit(text, lengths) for name, text in _STARTS[shape].items()}
    return {"shape": shape, **fields}


def starting_elements(lengths: str | None) -> dict[str, str]:
    """Return what an element of each kind is begun with, as it is written in a file."""
    return {kind: f"{{{kind}: {_in_unit(text, lengths)}}}" for kind, text in _ELEMENTS.items()}


def starting_value(name: str, lengths: str | None, shape: str = "") -> str | None:
    """Return what an optional field of a part or a face is begun with; None where it is no field of that sort."""
    text = _TAPERS.get(shape) if name == "taper" else _FIELDS.get(name)
    if text is None or name in _NO_LENGTHS:
        return text
    return _in_unit(text, lengths)


def _in_unit(text: str, lengths: str | None) -> str:
    if lengths == "mm":
        return text
    if lengths == "in":
        return _LENGTHS.sub(lambda found: inches(float(found[0])), text)
    return _LENGTHS.sub(lambda found: f"{found[0]} mm", text)


def inches(length_mm: float) -> str:
    """Return a length in inches as a maker writes it, to the nearest eighth; a short one finer.

    >>> inches(60), inches(3), inches(0), inches(-10)
    ('2-3/8', '1/8', '0', '-13/32')
    """
    finest = _EIGHTHS if abs(length_mm) >= _SMALL_MM else _FINE
    parts = Fraction(round(abs(length_mm) / MM_PER_IN * finest), finest)
    whole, rest = divmod(parts, 1)
    return ("-" if length_mm < 0 else "") + (f"{whole}-{rest}" if whole and rest else str(rest or whole))


_MEASURED = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 80" role="img"><g fill="none" stroke="#000">'
    '<path d="M18 58 C10 30 34 10 58 18 C84 8 108 30 98 54 C84 74 40 76 18 58 Z"/>'
    '<path d="M40 24 V68 M62 18 V71 M84 20 V68 M17 38 H102 M16 52 H100" stroke-width="0.5" stroke-dasharray="2 2"/></g>'
    '<text x="45" y="48" font-size="9" fill="#000">0.5 m²</text></svg>'
)
"""Of a part whose faces have areas and no shape: a freely drawn outline with a grid of measuring laid over it."""


@cache
def shape_pictures() -> dict[str, str]:
    """Return a drawing of what a part of each shape is begun with."""
    parts = "".join(
        f"  {shape}: {{{', '.join(f'{name}: {text}' for name, text in starting_fields(shape, 'mm').items())}}}\n"
        for shape in _STARTS
        if shape != "measured"
    )
    data = document_of(f"piece: shapes\nlengths: mm\nparts:\n{parts}", Path("shapes.yaml")).data
    piece, _ = piece_from(data, Known.of(bundled_catalogue()))
    return {**piece_drawings(piece, "metric"), "measured": _MEASURED}
