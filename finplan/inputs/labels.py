"""The sheet of labels that part tags are printed on, as its packet describes it."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Self

from pydantic import ValidationInfo, model_validator

from finplan.problems import shown
from finplan.quantity import LENGTH, MAX_TEXT, QuantityError, read_quantity
from finplan.reading import Form, Reads, Record, fail, whole_number

MAX_ROWS, MAX_COLUMNS = 20, 10
LEAST_WIDTH_MM, LEAST_HEIGHT_MM = 48.0, 25.0
"""Of a label: what a tag says cannot be read on a smaller one."""
LEAST = f"a tag needs {LEAST_WIDTH_MM:g} x {LEAST_HEIGHT_MM:g} mm: fewer rows or columns, or smaller margins and gaps"
PAPER_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height. A4: ISO 216. Letter: ANSI/ASME Y14.1, size A, 8-1/2 by 11 in."""
_BETWEEN = re.compile(r"(?<=[^\s\d/-])\s++(?=[-\d.½¼¾⅛⅜⅝⅞])")
"""Between two lengths in one text: the space that follows a unit."""
_MAX_LENGTH_MM = 1000.0
_MAX_TEXT = 4 * MAX_TEXT


@dataclass(frozen=True, slots=True)
class LabelPlace:
    """Where a label is on its sheet, from the upper left corner. [mm]"""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


def _number(most: int) -> Callable[[object], int]:
    def validate(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
            fail(f"'{str(value)[:20]}' is not a number of labels", f"expected 1 to {most}")
        return value

    return validate


def lengths_in(value: object) -> Sequence[object]:
    """Return the lengths that a list holds, or a text such as a packet has.

    >>> lengths_in("15.15 mm 7.2 mm"), lengths_in("1 1/2 in, 5/8 in"), lengths_in(["8 mm"])
    (['15.15 mm', '7.2 mm'], ['1 1/2 in', '5/8 in'], ['8 mm'])
    """
    if isinstance(value, str):
        return [text.strip() for part in value.split(",") for text in _BETWEEN.split(part.strip())]
    return value if isinstance(value, list) else [value]


def _lengths(counts: tuple[int, ...], example: str) -> Callable[[object, ValidationInfo], tuple[float, ...]]:
    def validate(value: object, info: ValidationInfo) -> tuple[float, ...]:
        if len(str(value)) > _MAX_TEXT:
            fail(f"{shown(value)} is too long", f"expected {example}")
        texts = lengths_in(value)
        if len(texts) not in counts:
            several = " or ".join(map(str, counts))
            fail(f"{len(texts)} lengths stand where {several} belong", f"expected {example}")
        lengths_mm = []
        for text in texts:
            try:
                length_mm = read_quantity(text, LENGTH, bare_unit=(info.context or {}).get("lengths"))
            except QuantityError as error:
                fail(error.wrong, error.expected)
            if length_mm < 0:
                fail(f"{shown(text)} is negative", "expected a length, or 0 mm")
            if length_mm > _MAX_LENGTH_MM:
                fail(f"{shown(text)} is too large", f"expected at most {_MAX_LENGTH_MM:g} mm")
            lengths_mm.append(length_mm)
        return tuple(lengths_mm)

    return validate


_MARGINS = "15 mm 7 mm: above and below, at the sides; or four, clockwise from above"
_GAPS = "0 mm 2.5 mm: between rows, between columns"


_MARGINS_FORM = Form("one length, two, or four clockwise from above: 15 mm 7 mm")
_GAPS_FORM = Form("one length, or two, between rows and between columns: 0 mm 2.5 mm")


class Labels(Record):
    """A sheet of labels; as it stands, plain paper for eight tags that are cut apart. Lengths in mm."""

    rows: Annotated[int, Reads(_number(MAX_ROWS)), whole_number(1, MAX_ROWS)] = 4
    """How many labels stand one below the other."""
    columns: Annotated[int, Reads(_number(MAX_COLUMNS)), whole_number(1, MAX_COLUMNS)] = 2
    """How many labels stand side by side."""
    margins_mm: Annotated[tuple[float, ...], Reads(_lengths((1, 2, 4), _MARGINS), in_context=True), _MARGINS_FORM] = (
        8.0,
    )
    """Between the edge of the paper and the labels."""
    gaps_mm: Annotated[tuple[float, ...], Reads(_lengths((1, 2), _GAPS), in_context=True), _GAPS_FORM] = (0.0,)
    """Between the labels."""
    cut_lines: bool | None = None
    """Whether lines to cut along are printed; None where nothing is said."""

    @model_validator(mode="after")
    def _fits_a_paper(self) -> Self:
        if all(self.too_small(paper) for paper in PAPER_MM):
            fail(self.too_small("a4") or "", LEAST)
        return self

    @property
    def cut(self) -> bool:
        """Whether lines to cut along are printed: on plain paper, unless said, not on labels that are cut already."""
        stated = self.model_fields_set - {"cut_lines"}
        return not stated if self.cut_lines is None else self.cut_lines

    def too_small(self, paper: str) -> str | None:
        """Return what is wrong with the labels on a paper, or None where they are large enough."""
        width_mm, height_mm = self._size_mm(paper)
        if width_mm >= LEAST_WIDTH_MM - 1e-6 and height_mm >= LEAST_HEIGHT_MM - 1e-6:
            return None
        if width_mm <= 0 or height_mm <= 0:
            paper_width_mm, paper_height_mm = PAPER_MM[paper]
            size = f"{paper.capitalize()}, which is {paper_width_mm:g} x {paper_height_mm:g} mm"
            return f"margins and gaps leave no room for labels on {size}"
        return f"margins and gaps leave labels of {width_mm:.1f} x {height_mm:.1f} mm on {paper.capitalize()}"

    def places(self, paper: str) -> tuple[LabelPlace, ...]:
        """Return the labels of a sheet of paper, row by row."""
        top_mm, _, _, left_mm = self._margins_mm()
        width_mm, height_mm = self._size_mm(paper)
        row_gap_mm, column_gap_mm = self._gaps_mm()
        return tuple(
            LabelPlace(
                left_mm=left_mm + column * (width_mm + column_gap_mm),
                top_mm=top_mm + row * (height_mm + row_gap_mm),
                width_mm=width_mm,
                height_mm=height_mm,
            )
            for row in range(self.rows)
            for column in range(self.columns)
        )

    def _margins_mm(self) -> tuple[float, float, float, float]:
        """Return them from above, clockwise."""
        given = self.margins_mm
        if len(given) == 4:
            return (given[0], given[1], given[2], given[3])
        return (given[0], given[-1], given[0], given[-1])

    def _gaps_mm(self) -> tuple[float, float]:
        return (self.gaps_mm[0], self.gaps_mm[-1])

    def _size_mm(self, paper: str) -> tuple[float, float]:
        top_mm, right_mm, bottom_mm, left_mm = self._margins_mm()
        row_gap_mm, column_gap_mm = self._gaps_mm()
        paper_width_mm, paper_height_mm = PAPER_MM[paper]
        return (
            (paper_width_mm - left_mm - right_mm - (self.columns - 1) * column_gap_mm) / self.columns,
            (paper_height_mm - top_mm - bottom_mm - (self.rows - 1) * row_gap_mm) / self.rows,
        )
