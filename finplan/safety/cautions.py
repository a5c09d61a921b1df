"""Which cautions a plan needs: those whose danger is there, and no others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.catalogue.caution import Moment
from finplan.safety.dangers import Circumstances, dangers
from finplan.system import Treatment

RULES_FIRST = "rules-come-first"
"""The caution that goes with every other: what comes before anything that is said here."""


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution to print, with what in this plan calls for it. ``source`` is a key of the catalogue's sources."""

    code: str
    when: Moment
    rank: int
    title: str
    text: str
    reason: str
    source: str
    because: tuple[str, ...]
    comes_first: str
    """That local codes, the label, the safety data sheet and licensed practice come before it."""


def cautions(
    treatments: Iterable[Treatment], catalogue: Catalogue, circumstances: Circumstances | None = None
) -> tuple[CautionLine, ...]:
    """Return the cautions that apply, the worst danger first; nothing can switch one off."""
    present = dangers(treatments, catalogue, circumstances)
    comes_first = catalogue.cautions[RULES_FIRST].text
    lines = [
        CautionLine(
            code=code,
            when=caution.when,
            rank=caution.rank,
            title=caution.title,
            text=caution.text,
            reason=caution.reason,
            source=caution.basis,
            because=tuple(dict.fromkeys(cause for trigger in caution.applies for cause in present.get(trigger, ()))),
            comes_first=comes_first,
        )
        for code, caution in catalogue.cautions.items()
        if any(trigger in present for trigger in caution.applies)
    ]
    return tuple(sorted(lines, key=lambda line: line.rank))
