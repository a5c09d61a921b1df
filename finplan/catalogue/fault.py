"""Faults of coats: how each looks, what brings it about, what to do by the finish, and where it cannot occur."""

from collections.abc import Iterable
from typing import Literal

from pydantic import Field

from finplan.catalogue.compatibility import FINISH_WORDS, NOT, finish_called, is_called
from finplan.catalogue.finish import Finish
from finplan.catalogue.record import Grit, Sourced
from finplan.problems import Finding, did_you_mean
from finplan.reading import DurationHRange, Name, Percentage, Record, Sentence, Title

PlanFact = Literal[
    "none",
    "colder",
    "warmer",
    "damper",
    "drier",
    "cold-while-drying",
    "thicker",
    "over-wet",
    "worked-wet",
    "window-missed",
    "not-abraded",
    "skipped",
    "sanded-beside",
    "sprayed",
    "wiped-off",
    "upright",
    "end-grain",
    "large",
    "mixed",
    "thinned",
    "over-oil",
    "over-colour",
    "over-waxed",
    "tannin",
    "resinous",
    "oily-timber",
    "blotching",
    "open-pores",
    "water-on-bare",
    "sanded-after",
    "veneer",
]
"""What of a plan and its record bears a cause out, or rules it out; ``none``: neither says, one has to look."""
RepairDeed = Literal["scrape", "wipe", "abrade", "coat", "coats"]
"""What a repair does: scrape, wipe with a solvent, abrade, put the same coat on again, or all coats from the first."""
DriedTo = Literal["recoat", "handle", "cure"]
"""The stage of drying that a coat has to reach before it is worked."""


class FaultCause(Sourced):
    """One cause of faults, shared by all that come of it."""

    fact: PlanFact
    """What of the plan or the record bears it out or rules it out; ``none`` where one has to look."""
    least_pct: Percentage = 0.0
    """From what share on of what it is of it is borne out, of one that is a share; less rules it out."""
    look: Sentence
    """How it is found out at the bench."""
    avoid: Sentence
    """How it is kept from coming back."""


class LikelyCause(Record):
    """A cause of one fault."""

    cause: Name
    """A record of fault-causes.yaml."""
    likely: int = Field(ge=1, le=5)
    """How often it is that, where nothing else is known: 1 (seldom) to 5 (nearly always)."""
    finishes: tuple[Name, ...] = ("any",)
    """Of which finishes it can be the cause: names and words as in compatibility rules."""


class RepairStep(Record):
    """One step of a repair, in the order in which they are done."""

    do: RepairDeed
    """``scrape``, ``wipe``, ``abrade``, ``coat`` (the same coat again) or ``coats`` (all from the first up to it)."""
    on: Literal["spot", "item"] = "spot"
    """Whether only where the fault is, or the whole item: a mended place in a film that does not melt in shows."""
    only: Literal["always", "last", "not-last"] = "always"
    """``last``: only where no other coat of its finish comes after it; ``not-last``: only where one does."""
    grit: Grit | None = None
    """With what it is abraded."""
    solvent: Name | None = None
    """With what it is wiped; a record of solvents.yaml. None: what thins the finish."""
    wait_h: DurationHRange | None = None
    """Until the next step, whatever the air; none where that may begin at once, or by how the coat dries."""
    note: Title | None = None
    """What to mind."""


class FaultAnswer(Record):
    """What is done about a fault in some finishes."""

    finishes: tuple[Name, ...] = Field(min_length=1)
    """Which: names and words as in compatibility rules; the first answer that fits a finish is its."""
    now: Sentence
    """What to do, or not to do, at once."""
    until: DriedTo = "recoat"
    """Which stage of drying the coat has to reach before it is worked."""
    times_as_thick: float = Field(default=1.0, ge=1, le=5)
    """How many times as thick as the rest it is where the fault is; drying takes the square of it as long."""
    do: Sentence
    """What is done then."""
    steps: tuple[RepairStep, ...] = Field(min_length=1)
    """The same as steps of a plan."""
    share: Percentage
    """How much of the item is usually affected, where nothing else is told."""


class CannotOccur(Record):
    """Finishes in which a fault cannot occur."""

    finishes: tuple[Name, ...] = Field(min_length=1)
    """Which: names and words as in compatibility rules."""
    because: Sentence
    """Why, as the end of a sentence; what looks like it and is another fault is named."""


class CoatFault(Sourced):
    """A fault of a coat. For every finish it holds an answer, or why it cannot occur there."""

    term: Title | None = None
    """What the standard vocabulary of coatings calls it; none where that has no term for it."""
    aliases: tuple[Name, ...] = ()
    """What the trade calls it besides."""
    looks: Sentence
    """How it looks."""
    unlike: dict[Name, Sentence] = Field(default_factory=dict)
    """How it is told from faults that look like it."""
    causes: tuple[LikelyCause, ...] = Field(min_length=1)
    """What brings it about."""
    answers: tuple[FaultAnswer, ...] = Field(min_length=1)
    """What is done about it, by the finish."""
    cannot: tuple[CannotOccur, ...] = ()
    """Where it cannot occur; asked before the answers."""

    def ruled_out(self, name: str, finish: Finish) -> CannotOccur | None:
        """Return why it cannot occur in a finish; None where it can."""
        called = fault_called(name, finish)
        return next((cannot_occur for cannot_occur in self.cannot if is_called(cannot_occur.finishes, called)), None)

    def answer(self, name: str, finish: Finish) -> FaultAnswer | None:
        """Return what is done about it in a finish; None where it cannot occur, or the catalogue has no answer."""
        if self.ruled_out(name, finish) is not None:
            return None
        called = fault_called(name, finish)
        return next((fault_answer for fault_answer in self.answers if is_called(fault_answer.finishes, called)), None)

    def causes_in(self, name: str, finish: Finish) -> tuple[LikelyCause, ...]:
        """Return what can bring it about in a finish."""
        called = fault_called(name, finish)
        return tuple(cause for cause in self.causes if is_called(cause.finishes, called))


FAULT_WORDS = FINISH_WORDS | {"wiped-off", "melts-in", "two-part", "absorbed"}
"""What finishes are called in faults, beside their own names."""


def fault_called(name: str, finish: Finish) -> frozenset[str]:
    """Return all that a finish is called in faults: as in rules, and by how it is put on, mended and mixed."""
    more = {
        "wiped-off": finish.wipe_off_h is not None,
        "melts-in": finish.film_forming and finish.drying == "solvent" and finish.recoat_limit_h is None,
        "two-part": finish.mix is not None,
        "absorbed": finish.absorbed,
    }
    return finish_called(name, finish) | {word for word, so in more.items() if so}


def unknown_fault_words(
    fault: CoatFault, finishes: Iterable[str] | None, faults: Iterable[str] | None
) -> list[Finding]:
    """Return a finding for every word of a fault that means nothing, given the names of all finishes and faults.

    Names that are None are not asked for, for their file is lost.
    """
    findings: list[Finding] = []
    if finishes is None or faults is None:
        return findings
    known, others = {*FAULT_WORDS, *finishes}, set(faults)
    spoken: list[tuple[str, int, tuple[str, ...]]] = []
    spoken += [("causes", index, cause.finishes) for index, cause in enumerate(fault.causes)]
    spoken += [("answers", index, answer.finishes) for index, answer in enumerate(fault.answers)]
    spoken += [("cannot", index, cannot_occur.finishes) for index, cannot_occur in enumerate(fault.cannot)]
    for field, index, words in spoken:
        for place, word in enumerate(words):
            bare = word.removeprefix(NOT)
            if bare not in known:
                wrong = f"'{bare}' is neither a finish nor a word of faults"
                findings.append(Finding((field, index, "finishes", place), wrong, did_you_mean(bare, known)))
    for name in fault.unlike:
        if name not in others:
            findings.append(Finding(("unlike", name), f"'{name}' is no fault", did_you_mean(name, others)))
    return findings
