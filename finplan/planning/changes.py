"""What could be changed where pieces do not fit: begin sooner, no spray gun, one coat less, another system."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial

from finplan.planning.job import work_of
from finplan.planning.piece import PlannedPiece
from finplan.system import Treatment
from finplan.timetable import Change, Job, nominal_hours

_OTHER_SYSTEMS = 6
"""So many other coating systems are tried where a piece does not fit, those first that dry soonest."""


def changes_of(pieces: Sequence[PlannedPiece], job: Job, soonest: datetime | None) -> Iterator[Change]:
    """Give what could be changed of a job, the least first.

    Parameters
    ----------
    pieces
        What the job was made of
    job
        The job
    soonest
        When work could begin at the earliest; None where that is not known
    """
    yield from _starting_sooner(job, soonest)
    yield from _by_hand(pieces, job)
    yield from _other_finishes(pieces, job)


def _starting_sooner(job: Job, soonest: datetime | None) -> Iterator[Change]:
    if soonest is not None and soonest < job.earliest:
        yield Change("start now", lambda: replace(job, earliest=soonest))


def _by_hand(pieces: Sequence[PlannedPiece], job: Job) -> Iterator[Change]:
    """Give the same finishes without the spray gun, on every piece that is sprayed."""
    for number, piece in enumerate(pieces):
        if not any(one.sprays for one in job.pieces[number].open):
            continue
        methods = piece.source.catalogue.methods
        by_hand = tuple(name for name in piece.source.shop.methods if name not in methods or not methods[name].sprayed)
        other = piece.under(piece.source.with_methods(by_hand))
        if other.possible:
            words = f"brushed or wiped instead of sprayed{_on(job, number)}"
            yield Change(
                words, partial(_with_piece, job, number, piece.treated(other.treatments), job.pieces[number].done)
            )


def _other_finishes(pieces: Sequence[PlannedPiece], job: Job) -> Iterator[Change]:
    """Give one coat less on every piece, and other systems in the place of each piece's own."""
    for number, piece in enumerate(pieces):
        done = job.pieces[number].done
        fewer = tuple(_one_coat_less(treatment, done) for treatment in piece.treatments)
        if fewer != piece.treatments:
            yield Change(
                f"one coat less{_on(job, number)}", partial(_with_piece, job, number, piece.treated(fewer), done)
            )
        if any(one.finish is not None and one.id in done for one in piece.operations):
            continue  # what is on the piece stays on it
        for name, other in _other_systems(piece):
            yield Change(f"system '{name}'{_on(job, number)}", partial(_with_piece, job, number, other, {}))


def _on(job: Job, number: int) -> str:
    return "" if len(job.pieces) == 1 else f" on {job.pieces[number].piece}"


def _with_piece(job: Job, number: int, piece: PlannedPiece, done: Mapping[str, datetime]) -> Job:
    works = list(job.pieces)
    works[number] = work_of(piece, job.pieces[number].deliver, done)
    return replace(job, pieces=tuple(works))


def _one_coat_less(treatment: Treatment, done: Mapping[str, datetime]) -> Treatment:
    """Return a treatment without its last coat and the abrading before it, if the coat below is of the same finish.

    A coat that is on already cannot be left out.
    """
    coats = [step for step in treatment.steps if step.finish is not None]
    if len(coats) < 2 or coats[-1].finish != coats[-2].finish:
        return treatment
    if any(one == coats[-1].id or one.startswith(f"{coats[-1].id}/") for one in done):
        return treatment
    last = treatment.steps.index(coats[-1])
    below = treatment.steps.index(coats[-2])
    kept = [step for at, step in enumerate(treatment.steps) if not below < at <= last]
    return replace(treatment, steps=tuple(kept))


def _other_systems(piece: PlannedPiece) -> list[tuple[str, PlannedPiece]]:
    """Return the systems that go on the piece and dry sooner in standard air than what it gets, the soonest first.

    Paint is not offered for what shows the wood, nor the other way round.
    """
    if not piece.treatments:
        return []  # nothing of it is coated, and no system would be sooner than that
    catalogue = piece.source.catalogue
    own = max(nominal_hours(one, catalogue) for one in piece.treatments)
    own_systems = {one.system for one in piece.treatments}
    opaque = all(catalogue.systems[name].opaque for name in own_systems)
    found: list[tuple[float, str, PlannedPiece]] = []
    for name, system in catalogue.systems.items():
        if name in own_systems or system.opaque != opaque:
            continue
        other = piece.under(piece.source.with_piece(replace(piece.source.piece, system=name)))
        if not other.possible:
            continue
        hours = max(nominal_hours(one, catalogue) for one in other.treatments)
        if hours < own:
            found.append((hours, name, other))
    return [(name, other) for _, name, other in sorted(found, key=lambda one: one[:2])[:_OTHER_SYSTEMS]]
