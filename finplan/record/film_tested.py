"""What a test of an old coating came to, as it was ticked: the plan knows it as if it stood in the piece file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from finplan.inputs import LeadTest
from finplan.ledger import Tick
from finplan.planning import PlannedPiece
from finplan.problems import did_you_mean, shown
from finplan.record.typed import TypedError

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
    found = _RESULTS.get(text.strip().lower())
    if found is None:
        raise TypedError(f"{shown(text)} is no result of a test: {did_you_mean(text, _RESULTS)}", "result")
    return found


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
    return {step: one.result for one in ticks if one.kind == "done" and one.result for step in one.steps}


def with_results(pieces: tuple[PlannedPiece, ...], results: Mapping[str, LeadTest]) -> tuple[PlannedPiece, ...]:
    """Return pieces with what the record says of their old coatings: lead where any test of one found it."""
    return tuple(_with_result(one, results) for one in pieces) if results else pieces


def _with_result(piece: PlannedPiece, results: Mapping[str, LeadTest]) -> PlannedPiece:
    of_piece = piece.source.piece
    found = {results[step] for step in tests_of([piece]) if step in results} if of_piece.lead_test is None else set()
    if not found:
        return piece
    told: LeadTest = "lead" if "lead" in found else "clear"
    return piece.under(piece.source.with_piece(replace(of_piece, lead_test=told)))


def tests_of(pieces: Sequence[PlannedPiece]) -> frozenset[str]:
    """Return the ids of the tests of old coatings."""
    return frozenset(one.id for piece in pieces for one in piece.reckoned_operations if one.deed == "test")
