"""What a test of an old coating came to, as it was ticked: the plan knows it as if it stood in the piece file."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from types import MappingProxyType

from finplan.inputs import LeadTest
from finplan.ledger import Tick
from finplan.planning import PlannedPiece
from finplan.problems import did_you_mean, shown
from finplan.record.typed import TypedError
from finplan.timetable import Operation

NOTHING_TESTED: Mapping[str, LeadTest] = MappingProxyType({})
_RESULTS: dict[str, LeadTest] = {"lead": "lead", "clear": "clear"}


def result_of(text: str | None) -> LeadTest | None:
    """Return what a test came to, as it is typed.

    Raises
    ------
    TypedError
        It is neither ``lead`` nor ``clear``.
    """
    if text is None:
        return None
    result = _RESULTS.get(text.strip().lower())
    if result is None:
        raise TypedError(f"{shown(text)} is no result of a test: {did_you_mean(text, _RESULTS)}", "result")
    return result


def refuse_result_of_no_test(pieces: Sequence[PlannedPiece], steps: Sequence[str]) -> None:
    """Refuse the result of a test that is told of other steps.

    Raises
    ------
    TypedError
        One of the steps is no test of an old coating.
    """
    tests = tests_of(pieces)
    if any(step not in tests for step in steps):
        words = "is what a test of an old coating came to; tick the test with it, and other steps apart"
        raise TypedError(words, "result")


def results_of(ticks: Sequence[Tick]) -> dict[str, LeadTest]:
    """Return what tests came to, by the ids of their steps; of one that is ticked twice the later entry counts."""
    return {step: tick.result for tick in ticks if tick.kind == "done" and tick.result for step in tick.steps}


@dataclass(frozen=True, slots=True)
class Tested:
    """One test of an old coating: of which item, and what is known of it."""

    step: str
    """Its id."""
    item: str
    result: LeadTest | None
    """What it came to; None where that is not told."""
    at: datetime | None
    """When it was ticked with that."""
    done: bool
    """Whether it was done, or is believed to have been."""


@dataclass(frozen=True, slots=True)
class FilmTested:
    """What stands of the old coating of a piece; a result is of the item alone that was tested."""

    piece: str
    """As it is called."""
    tests: tuple[Tested, ...]

    @property
    def lead(self) -> tuple[Tested, ...]:
        """The tests that found lead: one is enough to stop all of the piece."""
        return tuple(test for test in self.tests if test.result == "lead")

    @property
    def clear(self) -> tuple[Tested, ...]:
        """The tests that found none."""
        return tuple(test for test in self.tests if test.result == "clear")

    @property
    def untold(self) -> tuple[Tested, ...]:
        """The tests of which no result is told, whether they were done or not: those items may hold lead."""
        return tuple(test for test in self.tests if test.result is None)

    @property
    def result(self) -> LeadTest | None:
        """What all of it is taken for; None, where it may hold lead, until every test is told to be clear."""
        return "lead" if self.lead else None if self.untold or not self.tests else "clear"


def films_tested(pieces: Sequence[PlannedPiece], ticks: Sequence[Tick], done: Container[str]) -> tuple[FilmTested, ...]:
    """Return what stands of the old coatings of pieces that have any to test.

    Parameters
    ----------
    pieces
        As their files say, without what the record knows
    ticks
        Those of the job that stand
    done
        The ids of what was done, or is believed to have been
    """
    results = results_of(ticks)
    at = {step: tick.at for tick in ticks if tick.kind == "done" and tick.result for step in tick.steps}
    films = (
        FilmTested(
            piece.source.piece.name,
            tuple(
                Tested(test.id, test.item, results.get(test.id), at.get(test.id), test.id in done or test.id in results)
                for test in _tests(piece)
            ),
        )
        for piece in pieces
    )
    return tuple(film for film in films if film.tests)


def with_results(pieces: tuple[PlannedPiece, ...], results: Mapping[str, LeadTest]) -> tuple[PlannedPiece, ...]:
    """Return pieces with what the record says of their old coatings.

    Lead where any test of a piece found it, and clear only where every test of it came out so: of an item without a
    result of its own nobody knows.
    """
    return tuple(_with_result(piece, results) for piece in pieces) if results else pieces


def _with_result(piece: PlannedPiece, results: Mapping[str, LeadTest]) -> PlannedPiece:
    of_piece = piece.source.piece
    tests = () if of_piece.lead_test is not None else tuple(_tests(piece))
    film = FilmTested("", tuple(Tested(test.id, test.item, results.get(test.id), None, done=False) for test in tests))
    if film.result is None:
        return piece
    return piece.under(piece.source.with_piece(replace(of_piece, lead_test=film.result)))


def tests_of(pieces: Sequence[PlannedPiece]) -> frozenset[str]:
    """Return the ids of the tests of old coatings."""
    return frozenset(test.id for piece in pieces for test in _tests(piece))


def _tests(piece: PlannedPiece) -> Iterator[Operation]:
    return (operation for operation in piece.reckoned_operations if operation.deed == "test")
