"""One line of the picture of the time: bars on the axis of the days."""

from __future__ import annotations

from dataclasses import dataclass

BAR_TOP = 8.0
BAR_HEIGHT = 34.0
_HATCH = 11.0
"""Between two lines of the hatching."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A stretch on a line."""

    x: float
    width: float

    @property
    def end(self) -> float:
        """Where it ends."""
        return self.x + self.width


@dataclass(frozen=True, slots=True)
class PictureRow:
    """The line of one item, or of several whose bars stand alike."""

    item: str
    piece: str
    words: str
    """The same in words, for those who hear it."""
    work: tuple[Bar, ...]
    """Sanding, gluing, putting together."""
    coats: tuple[Bar, ...]
    drying: tuple[Bar, ...]
    hatching: str
    """The lines across the drying, as the data of an SVG path."""
    windows: tuple[Bar, ...]
    ready_x: float
    """When its piece is ready."""
    deliver_x: float | None


def hatching_of(bar: Bar) -> str:
    """Return lines rising to the right across a bar, cut at its ends, as the data of an SVG path."""
    bottom = BAR_TOP + BAR_HEIGHT
    lines: list[str] = []
    x = bar.x - BAR_HEIGHT + _HATCH
    while x < bar.end:
        left, right = max(x, bar.x), min(x + BAR_HEIGHT, bar.end)
        if right > left:
            lines.append(f"M{left:.1f} {bottom - (left - x):.1f}L{right:.1f} {bottom - (right - x):.1f}")
        x += _HATCH
    return "".join(lines)
