"""The cautions, gathered by when they matter."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.listing import listed
from finplan.planning import Plan
from finplan.showing import capital
from finplan.telling import (
    because_words,
    caution_source,
    cautions_by_moment,
)


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
