"""The cautions, gathered by when they matter."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finplan.listing import listed
from finplan.planning import Plan
from finplan.sheet.halves import halves
from finplan.showing import capital
from finplan.telling import (
    because_words,
    caution_source,
    cautions_by_moment,
)

_LETTERS_OF_A_LINE = 62
"""Of a column."""
_MADE_LINES = 16
"""How many thirds of a line it takes to say of what the sheet was made."""


@dataclass(frozen=True, slots=True)
class CautionRow:
    """One caution, why, and on whose word."""

    title: str
    text: str
    reason: str
    because: str
    source: str


@dataclass(frozen=True, slots=True)
class CautionGroup:
    """The cautions of one moment, the worst danger first."""

    heading: str
    always: bool
    """Whether it holds at any moment, and so stands before all others."""
    rows: tuple[CautionRow, ...]


@dataclass(frozen=True, slots=True)
class Precaution:
    """What is done at some moment, which is named before the first of it."""

    heading: str
    """Of the first of its moment; empty of the others."""
    title: str
    text: str


def in_two_columns(groups: Sequence[CautionGroup]) -> tuple[tuple[Precaution, ...], tuple[Precaution, ...]]:
    """Return what is done at some moment, in the order of the moments, as two columns.

    Of what the sheet was made stands below the right one: below both it would be alone where they fill their page.
    """
    told: list[Precaution | None] = [
        Precaution("" if number else group.heading, row.title, row.text)
        for group in groups
        if not group.always
        for number, row in enumerate(group.rows)
    ]
    left, right = halves([*told, None], _lines)
    return tuple(filter(None, left)), tuple(filter(None, right))


def _lines(precaution: Precaution | None) -> int:
    """Return about how much of a column it takes, in thirds of a line: a heading is higher than one."""
    if precaution is None:
        return _MADE_LINES
    return (
        3 * math.ceil((len(precaution.title) + len(precaution.text)) / _LETTERS_OF_A_LINE)
        + 1
        + (7 if precaution.heading else 0)
    )


def caution_groups(plan: Plan) -> tuple[CautionGroup, ...]:
    """Return all cautions of a plan, in the order in which they matter."""
    return tuple(
        CautionGroup(
            heading,
            any(line.when == "always" for line in lines),
            tuple(
                CautionRow(
                    title=line.title,
                    text=line.text,
                    reason=line.reason,
                    because=capital(listed(because_words(line))),
                    source=caution_source(plan, line),
                )
                for line in lines
            ),
        )
        for heading, lines in cautions_by_moment(plan)
    )
