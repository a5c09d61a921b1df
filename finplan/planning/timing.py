"""The timetable of pieces as they were read: their operations, what has been done, and what could be changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import partial
from itertools import count
from pathlib import Path

from finplan.figures import checked
from finplan.planning.source import Source, surface_of, treatments_of
from finplan.problems import Problem, RefusedError
from finplan.reading import Calendar
from finplan.sanding import SandingPlan, sanding_plan
from finplan.surface import PieceSurface
from finplan.system import Treatment
from finplan.timetable import (
    Change,
    Job,
    Operation,
    PieceWork,
    Progress,
    ReadyFor,
    Timetable,
    nominal_hours,
    operations,
    rack_needs,
    timetable,
    with_lost_day,
)

_KEY_LETTERS = 60
_OTHER_SYSTEMS = 6
"""So many other coating systems are tried where a piece does not fit, those first that dry soonest."""


@dataclass(frozen=True, slots=True)
class Treated:
    """A piece with what is done to it."""

    source: Source
    surface: PieceSurface
    treatments: tuple[Treatment, ...]
    sanding: SandingPlan
    operations: tuple[Operation, ...]
    key: str = ""
    """What all ids of the piece begin with; empty where there is one piece only."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is wanted of a timetable beside its dates."""

    asap: bool = False
    """Ready as early as can be, instead of begun as late as is safe."""
    largest_buffer: bool = False
    """As much between ready and delivery as can be had, instead of what the shop wants."""
    ready_for: ReadyFor = "light-use"
    limit_s: float | None = None
    done: Mapping[str, datetime] = field(default_factory=dict)
    """When operations ended that have been done already, by their id."""
    lost_day: date | None = None
    """A day on which, as turns out in the morning, nobody works."""
    answers: bool = True
    """Whether to say the latest safe start and the earliest finish too, and what would make a plan fit."""
    earliest: bool = True
    """Whether the earliest finish is wanted among the answers."""
    soonest: datetime | None = None
    """When work could begin at the earliest, where the job starts later."""
    progress: Progress | None = None


def treated(source: Source, surface: PieceSurface, found: tuple[Treatment, ...], key: str = "") -> Treated:
    """Return a piece with its sanding and its operations; *key* is that of the treatments."""
    sanding = checked(sanding_plan(found, surface, source.catalogue, source.shop), "the sanding")
    return Treated(source, surface, found, sanding, operations(source.piece, found, sanding, source.catalogue), key)


def treated_pieces(sources: Sequence[Source]) -> tuple[Treated, ...]:
    """Return pieces of one shop with what is done to them, ids told apart where there are several.

    Raises
    ------
    RefusedError
        As ``treatments_of``; carries every problem of all pieces.
    """
    found: list[Treated] = []
    problems: list[Problem] = []
    for source, key in zip(sources, keys_of(sources), strict=True):
        surface = surface_of(source)
        try:
            found.append(treated(source, surface, treatments_of(source, surface, key), key))
        except RefusedError as error:
            problems += error.problems
    if problems:
        raise RefusedError(problems)
    return tuple(found)


def timetable_of(
    pieces: Sequence[Treated],
    deliveries: Sequence[Calendar | None],
    *,
    now: datetime,
    wishes: Wishes | None = None,
) -> Timetable:
    """Return the timetable of pieces in one shop.

    Parameters
    ----------
    pieces
        The pieces; all read with the same shop
    deliveries
        The date of each; None for none
    now
        The earliest moment at which work may start; knows its time zone
    wishes
        What else is wanted

    Raises
    ------
    NotFoundYetError
        No plan was found in the time, and none was proven impossible.
    """
    wishes = wishes or Wishes()
    job = job_of(pieces, deliveries, now, wishes)

    def changes() -> list[Change]:
        if not wishes.answers:
            return []
        return [*_by_hand(pieces, job), *_starting_sooner(job, wishes), *_other_finishes(pieces, job)]

    found = timetable(
        job,
        asap=wishes.asap,
        largest_buffer=wishes.largest_buffer,
        limit_s=wishes.limit_s,
        answers=wishes.answers,
        earliest=wishes.earliest,
        changes=changes,
        progress=wishes.progress,
    )
    if wishes.lost_day is not None and found.status != "impossible":
        found = with_lost_day(
            job,
            found,
            wishes.lost_day,
            limit_s=wishes.limit_s,
            asap=wishes.asap,
            largest_buffer=wishes.largest_buffer,
            progress=wishes.progress,
        )
    return checked(found, "the timetable")


def steps_before(pieces: Sequence[Treated]) -> dict[str, tuple[str, ...]]:
    """Return the id of every step, as a timetable of these pieces names them, with those that come before it."""
    before: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        for one in piece.operations:
            direct = [after.id for after in one.after]
            before[one.id] = tuple(dict.fromkeys([*(name for each in direct for name in before[each]), *direct]))
    return before


def job_of(pieces: Sequence[Treated], deliveries: Sequence[Calendar | None], now: datetime, wishes: Wishes) -> Job:
    """Return pieces as a job for the timetable; arguments as for ``timetable_of``."""
    named = zip(piece_names(pieces), pieces, deliveries, strict=True)
    works = tuple(_work(name, piece, deliver, wishes.done) for name, piece, deliver in named)
    first = pieces[0].source
    return Job(works, first.catalogue, first.shop, now, wishes.ready_for)


def piece_names(pieces: Sequence[Treated]) -> list[str]:
    """Return the name of each piece; two that have the same are told apart by their files."""
    names = [piece.source.piece.name for piece in pieces]
    return [
        name if names.count(name) == 1 else f"{name} ({piece.key.rstrip('/')})"
        for name, piece in zip(names, pieces, strict=True)
    ]


def _work(name: str, piece: Treated, deliver: Calendar | None, done: Mapping[str, datetime]) -> PieceWork:
    of_piece = {operation.id: done[operation.id] for operation in piece.operations if operation.id in done}
    rack = rack_needs(piece.treatments, piece.surface)
    return PieceWork(name, piece.key, piece.operations, rack, deliver, of_piece)


def keys_of(sources: Sequence[Source]) -> list[str]:
    """Return what goes before the ids of each piece: the name of its file, where there are several pieces.

    Two files of one name are told apart by a number, which no other file has in its own.
    """
    if len(sources) == 1:
        return [""]
    stems = [_key(source.piece_file.document.file) for source in sources]
    taken = {stem for stem in stems if stems.count(stem) == 1}
    keys: list[str] = []
    for number, stem in enumerate(stems, start=1):
        key = stem
        if stem not in taken:
            key = next(one for at in count(number) if (one := f"{stem}-{at}") not in taken)
            taken.add(key)
        keys.append(f"{key}/")
    return keys


def _key(file: Path) -> str:
    """Return the name of a file as a part of an id: of bounded length, and without what an id is read by."""
    return "".join(
        letter if letter.isprintable() and letter not in "=/" else "-" for letter in file.stem[:_KEY_LETTERS]
    )


# --- what could be changed ------------------------------------------------------------------------------------------


def _starting_sooner(job: Job, wishes: Wishes) -> Iterator[Change]:
    soonest = wishes.soonest
    if soonest is not None and soonest < job.earliest:
        yield Change("start now", lambda: replace(job, earliest=soonest))


def _by_hand(pieces: Sequence[Treated], job: Job) -> Iterator[Change]:
    """Give the same finishes without the spray gun, on every piece that is sprayed."""
    for number, piece in enumerate(pieces):
        if not any(one.sprays for one in job.pieces[number].open):
            continue
        shop, methods = piece.source.shop, piece.source.catalogue.methods
        by_hand = tuple(name for name in shop.methods if name not in methods or not methods[name].sprayed)
        shop_file = replace(piece.source.shop_file, shop=shop.model_copy(update={"methods": by_hand}))
        try:
            found = treatments_of(replace(piece.source, shop_file=shop_file), piece.surface, piece.key)
        except RefusedError:
            continue
        of_piece = "" if len(pieces) == 1 else f" on {job.pieces[number].piece}"
        words = f"brushed or wiped instead of sprayed{of_piece}"
        yield Change(words, partial(_with_treatments, pieces, job, number, found, job.pieces[number].done))


def _other_finishes(pieces: Sequence[Treated], job: Job) -> Iterator[Change]:
    """Give one coat less on every piece, and other systems in the place of each piece's own."""
    for number, piece in enumerate(pieces):
        of_piece = "" if len(pieces) == 1 else f" on {job.pieces[number].piece}"
        done = job.pieces[number].done
        fewer = tuple(_one_coat_less(treatment, done) for treatment in piece.treatments)
        if fewer != piece.treatments:
            yield Change(f"one coat less{of_piece}", partial(_with_treatments, pieces, job, number, fewer, done))
        if any(one.finish is not None and one.id in done for one in piece.operations):
            continue  # what is on the piece stays on it
        for name, found in _other_systems(piece):
            yield Change(f"system '{name}'{of_piece}", partial(_with_treatments, pieces, job, number, found, {}))


def _with_treatments(
    pieces: Sequence[Treated],
    job: Job,
    number: int,
    found: tuple[Treatment, ...],
    done: Mapping[str, datetime],
) -> Job:
    other = treated(pieces[number].source, pieces[number].surface, found, pieces[number].key)
    works = list(job.pieces)
    works[number] = _work(job.pieces[number].piece, other, job.pieces[number].deliver, done)
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


def _other_systems(piece: Treated) -> list[tuple[str, tuple[Treatment, ...]]]:
    """Return the systems that go on the piece and dry sooner in standard air than what it gets, the soonest first.

    Paint is not offered for what shows the wood, nor the other way round.
    """
    if not piece.treatments:
        return []  # nothing of it is coated, and no system would be sooner than that
    own = max(nominal_hours(one, piece.source.catalogue) for one in piece.treatments)
    systems = piece.source.catalogue.systems
    own_systems = {one.system for one in piece.treatments}
    opaque = all(systems[name].opaque for name in own_systems)
    found: list[tuple[float, str, tuple[Treatment, ...]]] = []
    for name in systems:
        if name in own_systems or systems[name].opaque != opaque:
            continue
        changed = replace(piece.source.piece, system=name)
        source = replace(piece.source, piece_file=replace(piece.source.piece_file, piece=changed))
        try:
            treatments = treatments_of(source, piece.surface, piece.key)
        except RefusedError:
            continue
        hours = max(nominal_hours(one, piece.source.catalogue) for one in treatments)
        if hours < own:
            found.append((hours, name, treatments))
    return [(name, treatments) for _, name, treatments in sorted(found, key=lambda one: one[:2])[:_OTHER_SYSTEMS]]
