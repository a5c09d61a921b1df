"""A column of texts beside a view, each with a leader to what it speaks of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.drawing.callout import spread_apart
from finplan.drawing.canvas import MARGIN_MM, WIDTH_MM, Canvas
from finplan.drawing.lettering import CAPITAL_MM, LINE_GAP_MM, shortened_to_fit


@dataclass(frozen=True, slots=True)
class Label:
    """A text and the point that it speaks of. On a face the leader ends in a dot."""

    text: str
    target: complex
    role: str = "face"
    rise: float = 0.0
    """How far above its point the text would best stand. [mm]"""


def draw_column(canvas: Canvas, labels: Sequence[Label], left: float, head: float) -> None:
    """Set texts below one another at the right of a view, from *head* down, in the order of their points."""
    wanted = [label.target.imag - label.rise for label in labels]
    for label, middle in zip(labels, _middles(wanted, head), strict=True):
        text = shortened_to_fit(label.text, WIDTH_MM - MARGIN_MM - left)
        canvas.text(left, middle + CAPITAL_MM / 2, text, anchor="start", role=label.role)
        canvas.line(complex(left - 0.8, middle), label.target)
        if label.role == "face":
            canvas.dot(label.target)


def _middles(wanted: Sequence[float], head: float) -> list[float]:
    """Return the heights of texts, as near as can be to those wanted and a line apart."""
    return spread_apart(wanted, [LINE_GAP_MM] * len(wanted), head, max(wanted) + len(wanted) * LINE_GAP_MM)
