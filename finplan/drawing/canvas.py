"""The paper that a drawing is made on: 85 mm wide, as long as it gets. Everything on it is in mm, y downwards."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from finplan.drawing import svg
from finplan.drawing.hatch import hatching
from finplan.drawing.lettering import LINE_GAP_MM, TEXT_MM, Box, shortened_to_fit, text_box, text_width, wrapped
from finplan.drawing.scale import Scale
from finplan.drawing.told import Told
from finplan.geometry import Subpath, coordinate_text, flattened, line, path_data

WIDTH_MM = 85.0
MARGIN_MM = 0.5
COVERED_SPACING_MM = 4.0

FONT = "Sheet, 'Sheet Fallback', Inter, sans-serif"
"""On the sheet the bundled font, under the name it has there; elsewhere what there is."""


class Pen(Enum):
    """What a line means, and so how it is drawn: its width [mm] and its dashes."""

    OUTLINE = ("outline", 0.5, "")
    VISIBLE = ("visible", 0.25, "")
    HIDDEN = ("hidden", 0.25, "1.6 0.9")
    CENTRE = ("centre", 0.18, "4 0.9 0.6 0.9")
    DIMENSION = ("dimension", 0.18, "")
    HATCH = ("hatch", 0.13, "")
    ERASER = ("eraser", 0.8, "")

    def __init__(self, role: str, width_mm: float, dashes: str) -> None:
        self.role = role
        self.width_mm = width_mm
        self.dashes = dashes

    def attributes(self) -> svg.Attributes:
        """The attributes of an element that is drawn with it."""
        dashed = {"stroke-dasharray": self.dashes} if self.dashes else {}
        return {
            "data-role": self.role,
            "fill": "none",
            "stroke": "#fff" if self is Pen.ERASER else "#000",
            "stroke-width": coordinate_text(self.width_mm),
            "stroke-linejoin": "round",
            **dashed,
        }


@dataclass(frozen=True, slots=True)
class _Mark:
    """An element to be, kept until the length of the paper is known."""

    tag: str
    attributes: svg.Attributes
    text: str | None = None


class Canvas:
    """Collects lines and texts. ``bottom`` is where the next view can begin.

    Where it is *marked*, a text that shows fields says which, and where it stands: for who lets them be changed there.
    """

    def __init__(self, *, marked: bool = False) -> None:
        self._marked = marked
        self._marks: list[_Mark] = []
        self.texts: list[Box] = []
        self.bottom = MARGIN_MM
        self.caption_baseline = 0.0
        self.put_off: list[str] = []
        """Texts that found no room where they belong, to be set below everything else."""

    right = WIDTH_MM - MARGIN_MM
    """Where a text ends at the latest."""

    def _reach(self, low: float) -> None:
        self.bottom = max(self.bottom, low)

    def path(self, paths: Subpath | Sequence[Subpath], pen: Pen) -> None:
        """Draw paths with a pen, as one element."""
        listed = [paths] if isinstance(paths, Subpath) else list(paths)
        if not listed:
            return
        self._marks.append(_Mark("path", {**pen.attributes(), "d": "".join(map(path_data, listed))}))
        self._reach(max(point.imag for path in listed for point in (path.start, *(s.end for s in path.segments))))

    def line(self, *points: complex, pen: Pen = Pen.DIMENSION) -> None:
        """Draw straight lines through points."""
        self.path(line(*points), pen)

    def break_line(self, top: complex, foot: complex) -> None:
        """Draw the zigzag of a part that goes on beyond the view."""
        middle, beyond = (top + foot) / 2, 1.2j
        zigzag = (middle - 1.2j, middle - 0.4j - 1.0, middle + 0.4j + 1.0, middle + 1.2j)
        self.path(line(top, foot), Pen.ERASER)
        self.line(top - beyond, *zigzag, foot + beyond, pen=Pen.DIMENSION)

    def dot(self, centre: complex) -> None:
        """Draw the end of a leader on a face."""
        self._marks.append(
            _Mark(
                "circle",
                {"cx": coordinate_text(centre.real), "cy": coordinate_text(centre.imag), "r": "0.5", "fill": "#000"},
            )
        )

    def arrow(self, tip: complex, towards: complex) -> None:
        """Draw an arrow head at *tip*, pointing along the unit vector *towards*."""
        back, side = -1.8 * towards, 0.32j * towards
        corners = (tip, tip + back + side, tip + back - side, tip)
        self._marks.append(_Mark("path", {"data-role": "arrow", "fill": "#000", "d": path_data(line(*corners))}))

    def hatch(self, paths: Sequence[Subpath]) -> None:
        """Fill the inside of closed paths with the hatching of cut wood."""
        self.path(hatching([flattened(path) for path in paths]), Pen.HATCH)

    def cross_hatch(self, paths: Sequence[Subpath]) -> None:
        """Fill the inside of closed paths with the cross-hatching of a covered face."""
        outlines = [flattened(path) for path in paths]
        for angle in (45.0, -45.0):
            self.path(hatching(outlines, angle_deg=angle, spacing_mm=COVERED_SPACING_MM), Pen.HATCH)

    def text(
        self,
        x: float,
        baseline: float,
        content: str,
        *,
        anchor: str = "middle",
        role: str = "size",
        clear: bool = False,
    ) -> None:
        """Set a text; it is pushed in where it would leave the paper, and cut where it is wider.

        Parameters
        ----------
        x, baseline
            Where its start, middle or end stands. [mm]
        anchor
            ``start``, ``middle`` or ``end``
        role
            What it is: ``size``, ``face``, ``caption`` or ``note``
        clear
            Whether what is drawn behind it is wiped out
        """
        content = shortened_to_fit(content, WIDTH_MM - 2 * MARGIN_MM)
        box = text_box(x, baseline, content, anchor)
        x += max(0.0, MARGIN_MM - box.left) - max(0.0, box.right - WIDTH_MM + MARGIN_MM)
        box = text_box(x, baseline, content, anchor)
        if clear:
            self._marks.append(_white(box))
        self._set(x, baseline, content, anchor, role, box)

    def upright_text(self, x: float, middle: float, content: str, *, role: str = "size") -> None:
        """Set a text that reads upwards, its foot at *x*, its middle at the height *middle*."""
        half = text_width(content) / 2
        flat = text_box(0.0, 0.0, content)
        box = Box(x + flat.top, middle - half, x + flat.bottom, middle + half)
        turn = {"transform": f"rotate(-90 {coordinate_text(x)} {coordinate_text(middle)})"}
        self._set(x, middle, content, "middle", role, box, turn)

    def _set(
        self,
        x: float,
        y: float,
        content: str,
        anchor: str,
        role: str,
        box: Box,
        more: svg.Attributes | None = None,
    ) -> None:
        attributes = {
            "data-role": role,
            "x": coordinate_text(x),
            "y": coordinate_text(y),
            "text-anchor": anchor,
            "font-family": FONT,
            "font-size": coordinate_text(TEXT_MM),
            "fill": "#000",
            **(more or {}),
        }
        if self._marked and isinstance(content, Told):
            middle = complex(box.left + box.right, box.top + box.bottom) / 2
            wide, high = text_width(content), TEXT_MM
            attributes["data-pieces"] = json.dumps(content.pieces)
            attributes["data-box"] = " ".join(
                map(coordinate_text, (middle.real - wide / 2, middle.imag - high / 2, wide, high))
            )
        self._marks.append(_Mark("text", attributes, content))
        self.texts.append(box)
        self._reach(box.bottom)

    def caption(self, words: str, scale: Scale | None = None) -> float:
        """Set what the next view shows, at which scale, and return the height of its baseline."""
        baseline = self.bottom + (LINE_GAP_MM if len(self.texts) else 3.2)
        self.text(MARGIN_MM, baseline, words if scale is None else f"{words}, {scale}", anchor="start", role="caption")
        self.caption_baseline = baseline
        return baseline

    def notes(self, lines: Iterable[str]) -> None:
        """Set lines of text below everything else."""
        baseline = self.bottom + LINE_GAP_MM - 0.6
        for text in lines:
            for piece in wrapped(text, WIDTH_MM - 2 * MARGIN_MM):
                self.text(MARGIN_MM, baseline, piece, anchor="start", role="note")
                baseline += LINE_GAP_MM

    def drawing(self, title: str) -> str:
        """Return the finished drawing; *title* says in words what it shows."""
        if self.put_off:
            self.notes(["; ".join(self.put_off)])
        height = self.bottom + MARGIN_MM
        root = svg.drawing(WIDTH_MM, height, title)
        svg.add(root, "rect", {"width": coordinate_text(WIDTH_MM), "height": coordinate_text(height), "fill": "#fff"})
        for mark in self._marks:
            svg.add(root, mark.tag, mark.attributes, mark.text)
        return svg.as_text(root)


def _white(box: Box) -> _Mark:
    size = {"width": coordinate_text(box.right - box.left + 0.8), "height": coordinate_text(box.bottom - box.top + 0.6)}
    return _Mark(
        "rect", {"x": coordinate_text(box.left - 0.4), "y": coordinate_text(box.top - 0.3), **size, "fill": "#fff"}
    )
