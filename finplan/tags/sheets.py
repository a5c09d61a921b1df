"""From the tags of a plan to sheets of labels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.inputs import PAPER_MM, LabelPlace, Labels, Paper
from finplan.listing import listed
from finplan.planning import Plan
from finplan.tags.fit import FittedTag, fitted, is_small
from finplan.tags.tag import Tag, tags
from finplan.typesetting import filled
from finplan.version import __version__

_MARK_WIDTH_MM, _AROUND_MM = 3.2, 2.0
"""Of the mark, and the room above and below it: as in the style sheet."""
_HATCH_MM, _SHORTEST_MM = 2.6, 1.0
"""Between two lines of its hatching, and the least breadth of one: a shorter one in a corner looks like dirt."""


@dataclass(frozen=True, slots=True)
class WetMark:
    """What says from afar that something is wet: a strip of hatching. [mm]"""

    width_mm: float
    height_mm: float
    hatching: str
    """Its lines, as the data of an SVG path."""


@dataclass(frozen=True, slots=True)
class TagSheets:
    """Tags on their labels, sheet by sheet."""

    name: str
    """What they are tags of."""
    labels: Labels
    paper: Paper
    sheets: tuple[tuple[FittedTag, ...], ...]

    @property
    def tags(self) -> tuple[FittedTag, ...]:
        """All tags."""
        return tuple(tag for sheet in self.sheets for tag in sheet)

    @property
    def next_free(self) -> int:
        """Which label of the last sheet is the first free one; 1 where it is used up."""
        if not self.sheets:
            return 1
        places = self.labels.places(self.paper)
        return (places.index(self.sheets[-1][-1].place) + 1) % len(places) + 1


def tag_sheets(plan: Plan, labels: Labels, first: int = 1) -> TagSheets:
    """Return the part tags of a plan on sheets of labels.

    Parameters
    ----------
    plan
        One that fits
    labels
        The sheet of labels, large enough on the plan's paper
    first
        The first free label of a sheet that is begun, from 1, row by row
    """
    name = listed(piece.name for piece in plan.pieces)
    return TagSheets(name, labels, plan.paper, on_sheets(tags(plan), labels, plan.paper, first))


def on_sheets(made: Sequence[Tag], labels: Labels, paper: Paper, first: int = 1) -> tuple[tuple[FittedTag, ...], ...]:
    """Return tags on their labels, sheet by sheet, the first of them on the label of that number."""
    places = labels.places(paper)
    sheets: list[list[FittedTag]] = []
    for number, tag in enumerate(made, start=first - 1):
        if number % len(places) == 0 or not sheets:
            sheets.append([])
        sheets[-1].append(fitted(tag, places[number % len(places)]))
    return tuple(tuple(sheet) for sheet in sheets)


def sheets_html(laid: TagSheets) -> str:
    """Return tags on their labels as one page of HTML, a sheet of labels a sheet of paper."""
    places = laid.labels.places(laid.paper)
    return filled(
        "tags",
        name=laid.name,
        version=__version__,
        page_size=laid.paper.capitalize(),
        paper_mm=PAPER_MM[laid.paper],
        cut_lines=_cut_lines(places) if laid.labels.cut else ((), ()),
        small=is_small(places[0]),
        mark=_mark(places[0]),
        sheets=laid.sheets,
        places=places,
        sizes=list(dict.fromkeys(tag.sizes for tag in laid.tags)),
    )


def _cut_lines(places: Sequence[LabelPlace]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return where lines run down and across a sheet to cut along, each once. [mm]"""
    down = {x for place in places for x in (place.left_mm, place.left_mm + place.width_mm)}
    across = {y for place in places for y in (place.top_mm, place.top_mm + place.height_mm)}
    return (_each_once(down), _each_once(across))


def _each_once(lines_mm: set[float]) -> tuple[float, ...]:
    return tuple(sorted({round(line_mm, 3) for line_mm in lines_mm}))


def _mark(place: LabelPlace) -> WetMark:
    """Return hatching on a strip as high as a label has room for: lines rising to the right, cut at its ends."""
    height_mm = place.height_mm - 2 * _AROUND_MM
    lines: list[str] = []
    foot_mm = _HATCH_MM
    while foot_mm < height_mm + _MARK_WIDTH_MM:
        left, right = max(0.0, foot_mm - height_mm), min(_MARK_WIDTH_MM, foot_mm)
        if right - left >= _SHORTEST_MM:
            lines.append(f"M{left:.2f} {foot_mm - left:.2f}L{right:.2f} {foot_mm - right:.2f}")
        foot_mm += _HATCH_MM
    return WetMark(_MARK_WIDTH_MM, height_mm, "".join(lines))
