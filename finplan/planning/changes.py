"""What could be changed where pieces do not fit: begin sooner, no spray gun, fewer coats, another system."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial

from finplan.planning.approval import approval_of
from finplan.planning.job import work_of
from finplan.planning.piece import PlannedPiece
from finplan.system import Likeness, Treatment, likeness
from finplan.timetable import (
    ByHand,
    Change,
    ChangeKind,
    FewerCoats,
    Job,
    OtherSystem,
    StartNow,
    Way,
    nominal_hours,
)

_OF_KIND, _OF_OTHER_KINDS = 8, 4
"""So many coating systems are tried where a piece does not fit: of its kind the most alike, of others those that dry
soonest."""
_OTHER_FAMILY = 100
"""As far from the family asked for as no loss of ratings is."""
_FEWER = (1, 2)
"""So many coats less are tried."""


def ways_of(pieces: Sequence[PlannedPiece], job: Job, soonest: datetime | None, late: Collection[str]) -> Iterator[Way]:
    """Give what could be changed of a job.

    Parameters
    ----------
    pieces
        What the job was made of
    job
        The job
    soonest
        When work could begin at the earliest; None where that is not known
    late
        The keys of the pieces that are to be ready sooner, or to be done at all
    """
    yield from _starting_sooner(job, soonest)
    for number, piece in enumerate(pieces):
        # Less work on another piece leaves hands free; its system is nobody's to change for that.
        yield from _by_hand(piece, job, number)
        yield from _fewer_coats(piece, job, number)
        if piece.key in late:
            yield from _other_systems(piece, job, number)


def _starting_sooner(job: Job, soonest: datetime | None) -> Iterator[Way]:
    if soonest is not None and soonest < job.earliest:
        yield Way.of(Change(StartNow(), "start", lambda: replace(job, earliest=soonest)))


def _by_hand(piece: PlannedPiece, job: Job, number: int) -> Iterator[Way]:
    """Give the same finishes without the spray gun, where a piece is sprayed."""
    if not any(operation.sprays for operation in job.pieces[number].open):
        return
    methods = piece.source.catalogue.methods
    by_hand = tuple(name for name in piece.source.shop.methods if name not in methods or not methods[name].sprayed)
    unsprayed = piece.under(piece.source.with_methods(by_hand))
    if unsprayed.possible:
        treated, done = piece.treated(unsprayed.treatments), job.pieces[number].done
        yield Way.of(Change(ByHand(_name(job, number)), "method", partial(_with_piece, job, number, treated, done)))


def _name(job: Job, number: int) -> str | None:
    return None if len(job.pieces) == 1 else job.pieces[number].piece


def _with_piece(job: Job, number: int, piece: PlannedPiece, done: Mapping[str, datetime]) -> Job:
    works = list(job.pieces)
    approval = approval_of(piece, job.earliest, done)
    works[number] = work_of(piece, job.pieces[number].deliver, done, approval)
    return replace(job, pieces=tuple(works))


# --- fewer coats ----------------------------------------------------------------------------------------------------


def _fewer_coats(piece: PlannedPiece, job: Job, number: int) -> Iterator[Way]:
    done = job.pieces[number].done
    on = {operation.of_step for operation in piece.operations if operation.id in done}
    steps: list[tuple[Change, ...]] = []
    before = piece.treatments
    for coats in () if piece.repairs else _FEWER:  # what is mended is not left out
        fewer = tuple(_without_coats(treatment, coats, on) for treatment in piece.treatments)
        if fewer == before:
            break
        job_of = partial(_with_piece, job, number, piece.treated(fewer), done)
        steps.append((Change(FewerCoats(coats, _name(job, number)), "coats", job_of),))
        before = fewer
    if steps:
        yield Way(tuple(steps))


def _without_coats(treatment: Treatment, most: int, on: Collection[str | None]) -> Treatment:
    """Return a treatment without its last coats and the abrading before them; half of those of one finish stay.

    A coat of a step that is *on* already cannot be left out.
    """
    coats = treatment.put_on
    alike = 0
    while alike < len(coats) and coats[-1 - alike].finish == coats[-1].finish:
        alike += 1
    steps = list(treatment.steps)
    for last, below in list(zip(reversed(coats), reversed(coats[:-1]), strict=False))[: min(most, alike // 2)]:
        if last.id in on:
            break
        del steps[steps.index(below) + 1 : steps.index(last) + 1]
    return replace(treatment, steps=tuple(steps))


# --- another system -------------------------------------------------------------------------------------------------


def _other_systems(piece: PlannedPiece, job: Job, number: int) -> Iterator[Way]:
    """Give systems that go on the piece: those of its kind, and of other kinds what dries sooner in standard air.

    Paint is not offered for what shows the wood, nor the other way round, and nothing that risks to fail on its
    timbers; what is on the piece stays on it.
    """
    systems = piece.source.catalogue.systems
    own = Counter(
        treatment.system for treatment in piece.treatments if systems[treatment.system].finishes()
    ).most_common(1)
    if not own or any(
        operation.finish is not None and operation.id in job.pieces[number].done for operation in piece.operations
    ):
        return
    (name, _), *_ = own
    of_kind, others = _systems_like(name, piece)
    for system, like, treated in [*of_kind[:_OF_KIND], *others[:_OF_OTHER_KINDS]]:
        family = None if like.of_family else like.family
        remedy = OtherSystem(system, _name(job, number), family, like.less, like.isocyanate)
        kind: ChangeKind = "system" if like.of_kind else "other system"
        distance = (0 if like.of_family else _OTHER_FAMILY) + like.lost if like.of_kind else 0
        yield Way.of(Change(remedy, kind, partial(_with_piece, job, number, treated, {}), distance))


Other = tuple[str, Likeness, PlannedPiece]


def _systems_like(own: str, piece: PlannedPiece) -> tuple[list[Other], list[Other]]:
    """Return the systems of the same kind, the most alike first, and the others that dry sooner, the soonest first."""
    catalogue = piece.source.catalogue
    used = {treatment.system for treatment in piece.treatments}
    own_h = max(nominal_hours(treatment, catalogue) for treatment in piece.treatments)
    of_kind: list[tuple[tuple[float, ...], Other]] = []
    others: list[tuple[tuple[float, ...], Other]] = []
    for name, system in catalogue.systems.items():
        if name in used or system.opaque != catalogue.systems[own].opaque or not system.finishes():
            continue
        treated = piece.under(piece.source.with_piece(replace(piece.source.piece, system=name)))
        if not treated.possible or treated.own_system_risks:
            continue
        like = likeness(own, name, catalogue)
        dries_h = max(nominal_hours(treatment, catalogue) for treatment in treated.treatments)
        if like.of_kind:
            of_kind.append(((not like.of_family, like.lost, dries_h), (name, like, treated)))
        elif dries_h < own_h:
            others.append(((dries_h,), (name, like, treated)))
    return _by_rank(of_kind), _by_rank(others)


def _by_rank(ranked: Sequence[tuple[tuple[float, ...], Other]]) -> list[Other]:
    return [other for _, other in sorted(ranked, key=lambda entry: entry[0])]
