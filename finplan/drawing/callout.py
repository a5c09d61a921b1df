"""Callouts: texts in rows above or below a view, each with a leader to what it speaks of. No two leaders cross."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from finplan.drawing.canvas import MARGIN_MM, WIDTH_MM, Canvas
from finplan.drawing.lettering import CAPITAL_MM, text_width
from finplan.geometry import AS_IT_IS, Pose

MAX_ROWS = 4
ROW_MM = 5.6
"""From one row to the next: a text and room for leaders to turn below it."""
_GAP_MM = 3.5
_PASSAGE_MM = 0.6
"""The room that a leader to a row further out takes in a nearer one."""
Reach = tuple[float, float]
"""Where rows begin and end, from left to right. [mm]"""
WHOLE_WIDTH: Reach = (MARGIN_MM, WIDTH_MM - MARGIN_MM)


@dataclass(frozen=True, slots=True)
class Callout:
    """A text and the point that it speaks of."""

    text: str
    target: complex
    role: Literal["face", "size"] = "face"
    end: Literal["dot", "arrow", "plain"] = "dot"
    """How the leader ends: in a dot on a face, in an arrow at a line."""


def size_at(text: str, target: complex) -> Callout:
    """Return the callout of a size, with an arrow."""
    return Callout(text, target, "size", "arrow")


def spread_apart(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """Return middles in the given order, as near as can be to those wanted, so that nothing overlaps.

    >>> spread_apart([10.0, 11.0], [4.0, 4.0], 0.0, 100.0)
    [8.5, 12.5]
    """
    # Neighbours that would overlap are moved as one block about the mean of what they want (pool adjacent violators).
    blocks: list[tuple[float, float, int]] = []  # left side, width, how many
    for middle, width in zip(wanted, widths, strict=True):
        left, total, count = min(max(middle - width / 2, low), high - width), width, 1
        while blocks and blocks[-1][0] + blocks[-1][1] > left:
            before_left, before_total, before_count = blocks.pop()
            left = (before_left * before_count + (left - before_total) * count) / (before_count + count)
            total, count = before_total + total, before_count + count
            left = min(max(left, low), high - total)
        blocks.append((left, total, count))
    middles: list[float] = []
    for left, _, count in blocks:
        for width in widths[len(middles) : len(middles) + count]:
            middles.append(left + width / 2)
            left += width
    return middles


def _rows(callouts: Sequence[Callout], reach: Reach) -> int | None:
    """Return the number of rows that callouts need, or None where even the most are too few."""
    for rows in range(1, MAX_ROWS + 1):
        if all(sum(_widths(callouts, row, rows)) <= reach[1] - reach[0] for row in range(rows)):
            return rows
    return None


def _widths(callouts: Sequence[Callout], row: int, rows: int) -> list[float]:
    """Return what each text or its leader takes in one row; those of nearer rows take nothing further out."""
    return [
        text_width(item.text) + _GAP_MM if index % rows == row else _PASSAGE_MM
        for index, item in enumerate(callouts)
        if index % rows >= row
    ]


def callout_height(callouts: Sequence[Callout], rows: Reach = WHOLE_WIDTH) -> float | None:
    """Return the room that callouts take above or below a view [mm], or None where there is not enough.

    Parameters
    ----------
    callouts
        With their texts
    rows
        How far their rows reach
    """
    if not callouts:
        return 0.0
    count = _rows(_in_order(callouts), rows)
    return None if count is None else count * ROW_MM


def _in_order(callouts: Sequence[Callout]) -> list[Callout]:
    return sorted(callouts, key=lambda item: item.target.real)


def fitting(callouts: Sequence[Callout], rows: Reach = WHOLE_WIDTH) -> tuple[list[Callout], list[Callout]]:
    """Return the callouts that there is room for, and those that there is not: names of faces come before sizes."""
    if callout_height(callouts, rows) is not None:
        return list(callouts), []
    faces = [item for item in callouts if item.role == "face"]
    kept = faces if callout_height(faces, rows) is not None else []
    return kept, [item for item in callouts if item not in kept]


def draw_callouts(
    canvas: Canvas,
    callouts: Sequence[Callout],
    clear_y: float,
    *,
    placed: Pose = AS_IT_IS,
    rows: Reach = WHOLE_WIDTH,
    down: bool = False,
) -> None:
    """Draw callouts beyond a view; leaders go straight out of it, then from row to row, in the same order in each.

    Parameters
    ----------
    canvas
        The paper
    callouts
        For which there must be room
    clear_y
        Where the view ends
    placed
        Where their points come to lie on paper
    rows
        How far their rows reach
    down
        Whether the rows are below the view
    """
    ordered = _in_order([replace(item, target=placed.at(item.target)) for item in callouts])
    count = _rows(ordered, rows)
    if not ordered or count is None:
        return
    way = 1.0 if down else -1.0
    leaders = [[item.target, complex(item.target.real, clear_y)] for item in ordered]
    for row in range(count):
        here = [index for index in range(len(ordered)) if index % count >= row]
        widths = _widths(ordered, row, count)
        middles = spread_apart([leaders[index][-1].real for index in here], widths, *rows)
        near = clear_y + way * (row * ROW_MM + ROW_MM - CAPITAL_MM - 1.2)
        far = clear_y + way * (row + 1) * ROW_MM
        for index, middle in zip(here, middles, strict=True):
            leaders[index].append(complex(middle, near))
            if index % count != row:
                leaders[index].append(complex(middle, far))
                continue
            baseline = (near + 0.6 + CAPITAL_MM) if down else near - 0.6
            canvas.text(middle, baseline, ordered[index].text, role=ordered[index].role)
    for item, leader in zip(ordered, leaders, strict=True):
        canvas.line(*leader)
        if item.end == "dot":
            canvas.dot(item.target)
        elif item.end == "arrow":
            canvas.arrow(item.target, -1j * way)
