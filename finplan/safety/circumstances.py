"""The circumstances of a plan: which danger is there in which rows, from what, where, when, and for whom.

Everything that is said, ticked, worn, had and bought for safety is read from this list and the cautions that speak of
its dangers; nothing else decides where something is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.catalogue import Catalogue, Finish, Trigger
from finplan.safety.dangers import Background, Danger, dangers_of
from finplan.safety.fetched import Fetched
from finplan.safety.report import SessionReport
from finplan.safety.session import AirVerdict
from finplan.safety.solvents import thinner_of
from finplan.system import CoatStep, Treatment, TreatmentStep
from finplan.timetable import Deed, TimetableStep

_MAY_BURN: tuple[AirVerdict, ...] = ("fire danger", "above the planning target")
_OF_ITEM: tuple[Deed, ...] = ("joints", "test", "wipe-down")
"""Deeds that belong to no step, and so to the bare wood of their item."""


_THINS_LACQUER = "lacquer-thinner"
"""What thins lacquers and their sealers, which hold nitrocellulose: a name in the catalogue's solvents."""


@dataclass(frozen=True, slots=True)
class AirOfRoom:
    """The air of a room as what brings a danger."""

    room: str


BroughtBy = str | AirOfRoom
"""What brings a danger: something by its title, or the air of a room."""


@dataclass(frozen=True, slots=True)
class Circumstance:
    """One danger from one cause, and where it is met."""

    danger: Trigger
    cause: BroughtBy
    rows: tuple[str, ...]
    """The ids of the rows of the timetable in which it is there, in order of time; none where it belongs to none."""
    people: tuple[str, ...]
    """Who works there."""
    rooms: tuple[str, ...]
    start: datetime | None
    end: datetime | None
    """Of the first and the last of its rows."""
    mask: str | None = None
    """Of the air of a room, the mask that does in it: a name in the catalogue's respirators and its equipment."""


def circumstances(
    treatments: Sequence[Treatment],
    rows: Sequence[TimetableStep],
    sessions: Sequence[SessionReport],
    catalogue: Catalogue,
    background: Background,
    *,
    planned: bool,
) -> tuple[Circumstance, ...]:
    """Return the circumstances of a plan.

    Parameters
    ----------
    treatments
        What every item gets
    rows
        Of the timetable, in order of time
    sessions
        What is reckoned of the air in them
    catalogue
        Where the records are
    background
        What else is known
    planned
        Whether there is a timetable: what has no row in it is not done, or done already. Without one everything is to
        come, at no time that is known
    """
    attended = [row for row in rows if row.kind == "attended"]
    brought: dict[tuple[Trigger, str], list[TimetableStep]] = {}
    for treatment in treatments:
        for step in treatment.steps:
            for danger in dangers_of(treatment, step, catalogue, background):
                there = _rows_of(danger, treatment, step, attended)
                if there or not danger.deeds or not (planned or danger.deeds == ("abrade-again",)):
                    brought.setdefault((danger.trigger, danger.cause), []).extend(there)
    made = [_circumstance(trigger, cause, there) for (trigger, cause), there in brought.items()]
    made += _of_mist(treatments, attended, catalogue)
    return (*made, *_of_residue(treatments, attended, catalogue), *_of_air(sessions, attended))


def _rows_of(
    danger: Danger, treatment: Treatment, step: TreatmentStep, attended: Sequence[TimetableStep]
) -> list[TimetableStep]:
    return [
        row
        for row in attended
        if row.deed in danger.deeds
        and (
            row.of_step == step.id or (row.deed in _OF_ITEM and (row.key, row.item) == (treatment.key, treatment.item))
        )
    ]


def _circumstance(
    danger: Trigger, cause: BroughtBy, rows: Iterable[TimetableStep], mask: str | None = None
) -> Circumstance:
    there = sorted(rows, key=lambda row: (row.start.timestamp(), row.id))
    return Circumstance(
        danger=danger,
        cause=cause,
        rows=tuple(dict.fromkeys(row.id for row in there)),
        people=tuple(dict.fromkeys(row.person for row in there if row.person is not None)),
        rooms=tuple(dict.fromkeys(row.room for row in there)),
        start=there[0].start if there else None,
        end=max((row.end for row in there), key=datetime.timestamp, default=None),
        mask=mask,
    )


def in_vapour(rows: Sequence[TimetableStep], fetches: Mapping[str, Fetched]) -> tuple[Circumstance, ...]:
    """Return what is done behind a mask in a room whose air is not fit to work in, by what is put on there beside it.

    Parameters
    ----------
    rows
        Of the timetable
    fetches
        Where the work on something is done there, by the ids of rows
    """
    behind: dict[tuple[str, str], list[TimetableStep]] = {}
    for row in rows:
        there = fetches.get(row.id)
        if there is not None and there.done_there and there.mask is not None and row.kind == "attended":
            behind.setdefault((there.room, there.mask), []).append(row)
    return tuple(
        _circumstance("short-of-air", AirOfRoom(room), beside, mask) for (room, mask), beside in behind.items()
    )


def _of_mist(
    treatments: Sequence[Treatment], attended: Sequence[TimetableStep], catalogue: Catalogue
) -> Iterator[Circumstance]:
    """Give what somebody else does in a room in which something is sprayed: he stands in its mist.

    Where that holds isocyanate nobody else is there.
    """
    sprayed = {
        step.id: finish
        for treatment in treatments
        for step in treatment.steps
        if isinstance(step, CoatStep) and catalogue.methods[step.method].sprayed
        for finish in (catalogue.finishes[step.finish],)
        if not finish.hazards.isocyanate
    }
    for row in attended:
        finish = sprayed.get(row.of_step or "") if row.deed in ("coat", "fill") else None
        beside = [] if finish is None else [other for other in attended if _is_beside(other, row)]
        if finish is not None and beside:
            yield _circumstance("spraying", finish.title, beside)


def _is_beside(other: TimetableStep, row: TimetableStep) -> bool:
    """Return whether somebody else works in the room of a row while that is done."""
    apart = other.end <= row.start or row.end <= other.start
    return other.room == row.room and other.person != row.person and not apart


def _of_residue(
    treatments: Sequence[Treatment], attended: Sequence[TimetableStep], catalogue: Catalogue
) -> Iterator[Circumstance]:
    """Give where lacquer is sprayed on residues of what oxidises, or the other way, whose residues heat together.

    What is done already has no row any more, and lies in the booth all the same.
    """
    sprayed = {
        step.id: finish
        for treatment in treatments
        for step in treatment.steps
        if isinstance(step, CoatStep) and catalogue.methods[step.method].sprayed
        for finish in (catalogue.finishes[step.finish],)
        if _heats_with(finish) is not None
    }
    to_come = {row.of_step for row in attended}
    before = [finish for name, finish in sprayed.items() if name not in to_come]
    lies_there: dict[str, Finish] = {}
    for row in sorted(attended, key=lambda row: row.start.timestamp()):
        finish = sprayed.get(row.of_step or "")
        if finish is None or row.deed not in ("coat", "fill"):
            continue
        done = [other for other in before if _heats_with(other) != _heats_with(finish)]
        last = lies_there.get(row.room, done[-1] if done else finish)
        if _heats_with(last) != _heats_with(finish):
            yield _circumstance("residue-of-another", last.title, [row])
        lies_there[row.room] = finish


def _heats_with(finish: Finish) -> str | None:
    """Return of which of the two kinds a residue is that heat where they lie together; None of neither."""
    if finish.hazards.self_heating:
        return "oil"
    return "lacquer" if thinner_of(finish) == _THINS_LACQUER else None


def _of_air(sessions: Sequence[SessionReport], attended: Sequence[TimetableStep]) -> Iterator[Circumstance]:
    """Give what is there in the air of rooms: so much that it may burn, or that it is breathed behind a mask only."""
    for report in sessions:
        session = report.session
        begun = {row.of_step for row in attended if row.id in report.steps}
        there = [row for row in attended if row.id in report.steps or _cleans(row, begun, session.room)]
        cause = AirOfRoom(session.room)
        if session.verdict in _MAY_BURN:
            yield _circumstance("air-near-burning", cause, there)
        # Whoever puts on something else beside wet isocyanate breathes it too.
        hardening = {emission.id for emission in session.emissions if emission.isocyanate}
        beside = [row for row in there if row.id in report.steps and row.id not in hardening]
        if hardening and beside:
            yield _circumstance("isocyanate", cause, beside)
        # Where nobody knows what comes in, nobody counts on it.
        mask = None if session.isocyanate else session.mask or ("half-mask" if session.verdict == "unknown" else None)
        if mask is not None:
            yield _circumstance("short-of-air", cause, there, mask)


def _cleans(row: TimetableStep, begun: set[str | None], room: str) -> bool:
    """Return whether a row cleans the tools of what was put on in a room, in whose air they are cleaned."""
    return row.deed == "clean-up" and row.room == room and row.of_step in begun
