"""Cautions by when they matter, and on whose word they are given."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from finplan.catalogue import Moment
from finplan.listing import listed
from finplan.planning import Plan, caution_sources
from finplan.safety import AirOfRoom, BroughtBy, CautionLine

_HEADINGS: dict[Moment, str] = {
    "before": "Before you begin",
    "sanding": "While sanding",
    "coating": "While coating",
    "end of each step": "At the end of each step",
    "end of the day": "At the end of the day",
    "drying": "While it dries",
    "emergency": "When something happens",
    "delivery": "At delivery",
    "always": "Always",
}


def cautions_by_moment(plan: Plan) -> Iterator[tuple[str, tuple[CautionLine, ...]]]:
    """Give the cautions of a plan under the words for when they matter, the worst danger first."""
    for moment in get_args(Moment):
        lines = tuple(line for line in plan.cautions if line.when == moment)
        if lines:
            yield _HEADINGS[moment], lines


def because_words(line: CautionLine) -> tuple[str, ...]:
    """Return what in a plan calls for a caution."""
    return tuple(map(brought_by, line.because))


def brought_by(cause: BroughtBy) -> str:
    """Return what brings a danger."""
    return f"the air of {cause.room}" if isinstance(cause, AirOfRoom) else cause


def caution_source(plan: Plan, line: CautionLine) -> str:
    """Return the sources of a caution, of several each with what it is of."""
    sources = caution_sources(plan, line)
    texts = []
    for key, timbers in sources.items():
        text = "recalled, not checked" if key == "memory" else source_title(plan, key)
        texts.append(f"{text} ({listed(timbers)})" if len(sources) > 1 else text)
    return "; ".join(texts)


def source_title(plan: Plan, key: str) -> str:
    """Return a source as it is cited: its title, and the section where there is one."""
    source = plan.catalogue.sources[key]
    return f"{source.title}, {source.section}" if source.section else source.title
