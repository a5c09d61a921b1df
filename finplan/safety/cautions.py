"""Which cautions a plan needs: those whose danger is there, and no others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Moment, Trigger
from finplan.safety.circumstances import BroughtBy, Circumstance
from finplan.safety.dangers import Background, dangers
from finplan.system import Treatment

RULES_FIRST = "rules-come-first"
"""The caution that goes with every other: what comes before anything that is said here."""
WORST = 3
"""So many dangers stand on the first page at least, and every one that may kill."""
_NEVER_LEFT_OUT = ("hardwood-dust",)
"""Dust that causes cancer is in every day of sanding, long before a tin is opened."""
_PART_OF: dict[Trigger, Trigger] = {
    "fresh-oil-dust": "self-heating",
    "old-paint-test": "old-paint",
    "old-paint-clean-up": "old-paint",
    "old-paint-untested": "old-paint",
    "old-paint-found": "old-paint",
    "old-paint-traces": "old-paint",
}
"""Dangers that are another one again."""


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
    because: tuple[BroughtBy, ...]
    comes_first: str
    """That local codes, the label, the safety data sheet and licensed practice come before it."""
    rows: tuple[str, ...] = ()
    """The ids of the rows of the timetable in which it applies."""


def cautions(
    treatments: Iterable[Treatment], catalogue: Catalogue, background: Background | None = None
) -> tuple[CautionLine, ...]:
    """Return the cautions that treatments call for whenever they are done, the worst danger first."""
    return _lines(dangers(treatments, catalogue, background), {}, catalogue)


def cautions_of(circumstances: Iterable[Circumstance], catalogue: Catalogue) -> tuple[CautionLine, ...]:
    """Return the cautions of a plan, the worst danger first; nothing can switch one off."""
    present: dict[Trigger, dict[BroughtBy, None]] = {"always": {}}
    rows: dict[Trigger, dict[str, None]] = {}
    for circumstance in circumstances:
        present.setdefault(circumstance.danger, {})[circumstance.cause] = None
        rows.setdefault(circumstance.danger, {}).update(dict.fromkeys(circumstance.rows))
    return _lines({danger: tuple(causes) for danger, causes in present.items()}, rows, catalogue)


def _lines(
    present: Mapping[Trigger, tuple[BroughtBy, ...]], rows: Mapping[Trigger, Iterable[str]], catalogue: Catalogue
) -> tuple[CautionLine, ...]:
    comes_first = catalogue.cautions[RULES_FIRST].text
    lines = [
        CautionLine(
            code=code,
            when=caution.when,
            rank=caution.rank,
            title=caution.title,
            text=(caution.where_isocyanate if "isocyanate" in present else None) or caution.text,
            reason=caution.reason,
            source=caution.basis,
            because=tuple(dict.fromkeys(cause for trigger in caution.applies for cause in present.get(trigger, ()))),
            comes_first=comes_first,
            rows=tuple(dict.fromkeys(row for trigger in caution.applies for row in rows.get(trigger, ()))),
        )
        for code, caution in catalogue.cautions.items()
        if any(trigger in present for trigger in caution.applies)
    ]
    return tuple(sorted(lines, key=lambda line: line.rank))


def of_old_paint(lines: Iterable[CautionLine], catalogue: Catalogue) -> tuple[CautionLine, ...]:
    """Return the cautions that speak of an old coating that may hold lead, and of nothing else."""
    about = {"old-paint", *(part for part, whole in _PART_OF.items() if whole == "old-paint")}
    return tuple(line for line in lines if about.issuperset(catalogue.cautions[line.code].applies))


def worst_cautions(lines: Iterable[CautionLine], catalogue: Catalogue) -> tuple[CautionLine, ...]:
    """Return the worst dangers, the worst first: of each danger the first caution that speaks of it and of no other.

    All of the first rank are among them, and as many others as make three; and what stands in the way of dust that
    causes cancer, however many are worse.
    """
    chosen: dict[Trigger, CautionLine] = {}
    for line in lines:
        applies = catalogue.cautions[line.code].applies
        if line.when != "always" and len(applies) == 1:
            chosen.setdefault(_PART_OF.get(applies[0], applies[0]), line)
    caution_lines = list(chosen.values())
    most = max(WORST, sum(line.rank == 1 for line in caution_lines))
    return tuple(line for number, line in enumerate(caution_lines) if number < most or line.code in _NEVER_LEFT_OUT)
