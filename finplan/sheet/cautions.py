"""The cautions, gathered by when they matter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from finplan.catalogue import Moment
from finplan.listing import listed
from finplan.planning import Plan, caution_sources
from finplan.safety import CautionLine
from finplan.showing import capital

_HEADINGS: dict[Moment, str] = {
    "before": "Before you begin",
    "sanding": "While sanding",
    "coating": "While coating",
    "end of each step": "At the end of each step",
    "end of the day": "At the end of the day",
    "drying": "While it dries",
    "delivery": "At delivery",
    "always": "Always",
}


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
    rows: tuple[CautionRow, ...]


def caution_groups(plan: Plan) -> tuple[CautionGroup, ...]:
    """Return all cautions of a plan, in the order in which they matter."""
    groups = []
    for moment in get_args(Moment):
        rows = tuple(
            CautionRow(
                title=line.title,
                text=line.text,
                reason=line.reason,
                because=capital(listed(line.because)),
                source=_said(plan, line),
            )
            for line in plan.cautions
            if line.when == moment
        )
        if rows:
            groups.append(CautionGroup(_HEADINGS[moment], rows))
    return tuple(groups)


def _said(plan: Plan, line: CautionLine) -> str:
    """Return the sources of a caution, of several each with what it is of."""
    found = caution_sources(plan, line)
    texts = []
    for key, timbers in found.items():
        text = "recalled, not checked" if key == "memory" else source_title(plan, key)
        texts.append(f"{text} ({listed(timbers)})" if len(found) > 1 else text)
    return "; ".join(texts)


def source_title(plan: Plan, key: str) -> str:
    """Return a source as it is cited: its title, and the section where there is one."""
    source = plan.catalogue.sources[key]
    return f"{source.title}, {source.section}" if source.section else source.title
