"""Reading a drawing back: its texts with the boxes they take in the printed font, and its paths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

from fontTools.ttLib import TTFont

from finplan.drawing.lettering import Box
from finplan.geometry import Subpath, read_path

NAMESPACE = "{http://www.w3.org/2000/svg}"
_FONT = Path(__file__).parents[2] / "templates/fonts/Inter-Regular.otf"


@cache
def _advances() -> dict[int, float]:
    """Return the width of every character of the printed font, as a share of its size."""
    font = TTFont(_FONT)
    size, widths = font["head"].unitsPerEm, font["hmtx"]
    return {code: widths[glyph][0] / size for code, glyph in font.getBestCmap().items()}


def width_in_font(text: str, size: float) -> float:
    return size * sum(_advances().get(ord(character), 1.0) for character in text)


@dataclass(frozen=True)
class Text:
    content: str
    role: str
    size: float
    box: Box


@dataclass(frozen=True)
class Drawn:
    root: ElementTree.Element
    title: str
    texts: list[Text]
    width: float
    height: float

    def contents(self, role: str) -> list[str]:
        return [text.content for text in self.texts if text.role == role]

    def factor(self, view: str) -> float:
        """Millimetres on paper for each of the part, as the caption of a view states it."""
        caption = next(text for text in self.contents("caption") if text.startswith(view))
        found = re.search(r"([\d.]+) : ([\d.]+)$", caption)
        assert found, caption
        return float(found.group(1)) / float(found.group(2))

    def paths(self, role: str) -> list[list[Subpath]]:
        """The closed paths drawn with one pen."""
        data = [
            element.get("d", "") for element in self.root.iter(f"{NAMESPACE}path") if element.get("data-role") == role
        ]
        return [list(read_path(text)) for text in data if text.endswith("Z")]


def read(svg: str) -> Drawn:
    root = ElementTree.fromstring(svg)  # noqa: S314 - our own drawing
    assert root.tag == f"{NAMESPACE}svg"
    assert root[0].tag == f"{NAMESPACE}title"
    left, top, width, height = (float(number) for number in root.get("viewBox", "").split())
    assert (left, top) == (0, 0)
    texts = [_text(element) for element in root.iter(f"{NAMESPACE}text")]
    return Drawn(root, root[0].text or "", texts, width, height)


def _text(element: ElementTree.Element) -> Text:
    content, size = element.text or "", float(element.get("font-size", "0"))
    x, y = float(element.get("x", "0")), float(element.get("y", "0"))
    width = width_in_font(content, size)
    before = {"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
    above, below = 0.73 * size, 0.2 * size
    if element.get("transform"):
        box = Box(x - above, y - width + before, x + below, y + before)
    else:
        box = Box(x - before, y - above, x - before + width, y + below)
    return Text(content, element.get("data-role", ""), size, box)
