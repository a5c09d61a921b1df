"""The warnings there are: each has a name, by which a file says under ``accept:`` that it is meant so.

Those about what goes on what are named as the rule of the catalogue that gives them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from types import MappingProxyType

from finplan.catalogue import Catalogue
from finplan.problems import Finding, Problem, did_you_mean, shown

CONCERNS: Mapping[str, str] = MappingProxyType(
    {
        "unlikely-size": "A size that another unit would make an ordinary one.",
        "circle-given-around": "A circle whose way around was probably meant to be its way across, or the other way.",
        "top-beside-aprons": "A round top that does not go with the aprons under it.",
        "large-joint": "A joint that covers more of a turned part, a rod or a leg than joints do.",
        "bare-underside": "A solid panel that is finished above and left bare below, so that it may cup.",
        "covered-face": "Coats, a system, grits or a surface named for a face that is covered.",
        "heat-on-veneer": "Heat on what is veneered, for its old coating or its dents: the glue gives.",
        "past-date": "A delivery that is over.",
        "future-date": "A piece to be refinished that is yet to be built.",
        "twelve-hour-times": "Working hours that were probably meant to be after noon.",
        "open-at-christmas": "A shop that names no public holidays and works on 25 December.",
        "missing-timber": "A part for which no timber is named.",
        "missing-system": "A part for which no finishing system is named.",
        "unlikely-room": "A room too small to work in, or a shop in which water freezes by day.",
        "wood-moisture": "Air in which wood settles too damp or too dry to be finished.",
        "log-too-short": "A plan that reaches beyond the days of the shop's log.",
    }
)
"""What each warning says, by its name."""


def concerns_of(catalogue: Catalogue) -> dict[str, str]:
    """Return all names of warnings with what they say: the program's own, and those of the rules of a catalogue."""
    rules = {name: f"{rule.title}." for name, rule in catalogue.compatibility.items() if rule.verdict == "warn"}
    return {**CONCERNS, **rules}


def unknown_concerns(accepted: Iterable[str], known: Collection[str]) -> Iterator[Finding]:
    """Give an error for every name under ``accept:`` that no warning has."""
    for index, name in enumerate(accepted):
        if name not in known:
            wrong = f"there is no warning {shown(name)}"
            yield Finding(("accept", index), wrong, did_you_mean(name, known))


def not_accepted(problems: Iterable[Problem], accepted: Collection[str]) -> tuple[Problem, ...]:
    """Return problems without the warnings that a file accepts."""
    return tuple(problem for problem in problems if problem.severity == "error" or problem.name not in accepted)
