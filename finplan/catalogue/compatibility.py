"""Rules of what goes on what: a coat over another coat, or a coat on a timber."""

from collections.abc import Collection, Iterable, Set
from typing import Literal, Self, get_args

from pydantic import Field, model_validator

from finplan.catalogue.finish import Family, Finish
from finplan.catalogue.record import Grit, Sourced
from finplan.catalogue.system import StepDeed, System
from finplan.catalogue.timber import Tannin, Timber
from finplan.problems import Finding, did_you_mean
from finplan.reading import DurationHRange, Name, Sentence, fail

Ruling = Literal["refuse", "warn"]
SystemSort = Literal["flat", "opaque"]

NOT = "not "
"""Before a word in a list: never what is called that."""

FINISH_WORDS = frozenset(
    {*get_args(Family), "any", "film-forming", "dries-by-water", "raises-grain", "waxed", "stearated"}
)
"""What finishes are called in rules, beside their own names."""
TIMBER_WORDS = frozenset(
    {*(f"tannin-{level}" for level in get_args(Tannin))}
    | {"any", "oily", "blotches", "resinous", "dark", "filler-for-flat"}
)
"""What timbers are called in rules, beside their own names."""


class Compatibility(Sourced):
    """What may not go over what, or on what; one rule, from which no list of pairs has to be kept.

    ``over``, ``under`` and ``on`` are lists of names and words: any of them is enough, and a word after ``not`` rules
    out. A coat meets what lies under it down to the first film, and the wood where no film lies between.
    """

    verdict: Ruling
    """``refuse`` for what fails, ``warn`` for what risks."""
    over: tuple[Name, ...] = Field(min_length=1)
    """What is put on: names or families of finishes, or what they do."""
    under: tuple[Name, ...] = ()
    """The coat that it meets: likewise."""
    on: tuple[Name, ...] = ()
    """The timber that it meets: names of timbers, or what they are like."""
    systems: tuple[SystemSort, ...] = ()
    """Holds only in systems that are all of this; in every system where nothing is named."""
    after_h: DurationHRange | None = None
    """Holds no longer once the coat under it has hardened for this time, the typical one."""
    after_cure: bool = False
    """Holds no longer once the coat under it has cured."""
    tie_coat: Name | None = None
    """The finish that may lie between."""
    unless_step: StepDeed | None = None
    """Does not hold where this step comes before."""
    finer_than: Grit | None = None
    """Holds only where bare wood is sanded finer than this."""
    reason: Sentence
    """Why, as the end of a sentence."""
    remedy: Sentence
    """What to do instead."""

    @model_validator(mode="after")
    def _one_thing_below(self) -> Self:
        if bool(self.under) == bool(self.on):
            fail("a rule speaks of a coat or of a timber", "expected either under: or on:", ("under",))
        if self.on and (self.after_h or self.after_cure):
            fail("a timber does not harden", "give after: only with under:", ("on",))
        return self


def is_called(words: Collection[str], called: Set[str]) -> bool:
    """Return whether something that is *called* so is meant by a rule's list of *words*.

    >>> is_called(["film-forming", "not casein"], {"oil-varnish", "varnish", "film-forming"})
    True
    >>> is_called(["film-forming", "not casein"], {"casein-paint", "casein", "film-forming"})
    False
    """
    if called.isdisjoint(words):
        return False
    return not any(word.removeprefix(NOT) in called for word in words if word.startswith(NOT))


def unknown_words(rule: Compatibility, finishes: Iterable[str] | None, timbers: Iterable[str] | None) -> list[Finding]:
    """Return a finding for every word of a rule that means nothing, given the names of all finishes and timbers.

    Names that are None are not asked for, for their file is lost.
    """
    findings: list[Finding] = []
    for field, words, names, called in (
        ("over", rule.over, finishes, FINISH_WORDS),
        ("under", rule.under, finishes, FINISH_WORDS),
        ("on", rule.on, timbers, TIMBER_WORDS),
    ):
        known = {*called, *(names or ())}
        for index, word in enumerate(words if names is not None else ()):
            bare = word.removeprefix(NOT)
            if bare not in known:
                wrong = f"'{bare}' is neither a name nor a word of rules"
                findings.append(Finding((field, index), wrong, did_you_mean(bare, sorted(known))))
    return findings


def finish_called(name: str, finish: Finish) -> frozenset[str]:
    """Return all that a finish is called in rules."""
    return _called(
        [name, finish.goes_as or name, "any", finish.family],
        {
            "film-forming": finish.film_forming,
            "dries-by-water": finish.drying == "water",
            "raises-grain": finish.raises_grain,
            "waxed": finish.waxed,
            "stearated": finish.stearated,
        },
    )


def timber_called(name: str, timber: Timber) -> frozenset[str]:
    """Return all that a timber is called in rules."""
    return _called(
        [name, "any", f"tannin-{timber.tannin}"],
        {
            "oily": timber.oily,
            "blotches": timber.blotches,
            "resinous": timber.resinous,
            "dark": timber.dark,
            "filler-for-flat": timber.filler_for_flat,
        },
    )


def system_called(system: System) -> frozenset[str]:
    """Return what sorts of system a system is."""
    return _called([], {"flat": system.flat, "opaque": system.opaque})


def _called(always: Iterable[str], there: dict[str, bool]) -> frozenset[str]:
    return frozenset([*always, *(word for word, holds in there.items() if holds)])
