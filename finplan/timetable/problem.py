"""A job as a scheduling problem: what each rule of the shop is in activities, relations and resources."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from finplan.scheduling import (
    Activity,
    Deadline,
    Finish,
    Hold,
    Lag,
    Mode,
    NotAfter,
    NotBefore,
    Problem,
    Relation,
    Rule,
    Scheduled,
    SerialBatch,
    Slots,
)
from finplan.timetable.alike import Turns, turns_of
from finplan.timetable.apart import Apart
from finplan.timetable.job import PieceWork
from finplan.timetable.lying import DueSoon
from finplan.timetable.operation import After, Operation, all_operations, clean_ups
from finplan.timetable.setting import Setting
from finplan.timetable.shared_clean_up import clean_up_batches
from finplan.timetable.waits import Waits

NOTHING_FIXED: Mapping[str, Scheduled] = MappingProxyType({})
PLACES, HOOKS, SPRAY = "rack places", "rack hooks", "place for spraying"


@dataclass(frozen=True, slots=True)
class Window:
    """From when to when a piece may be worked on, and by when it has to be ready. Slots."""

    first: int
    last: int
    due: int | None = None


@dataclass(frozen=True, slots=True)
class Placement:
    """The problem of a job with what its parts mean."""

    problem: Problem
    finishes: Mapping[str, tuple[Finish, ...]]
    """By piece key: when the piece is ready, without a due date."""
    chains: tuple[tuple[str, ...], ...]
    """By piece: the activities that can come first."""
    again: tuple[str, ...]
    clean_ups: tuple[str, ...]


class ProblemMaker:
    """Makes the problem of several pieces in one setting and window.

    With *turns* items that are the same in everything take their turns in the order of the file, so that a search does
    not try every order of six chairs; without, the problem says nothing but what the shop asks. What is *fixed* starts
    when it is said to.
    """

    def __init__(
        self,
        pieces: Sequence[PieceWork],
        setting: Setting,
        windows: Mapping[str, Window],
        waits: Waits,
        *,
        turns: bool,
        fixed: Mapping[str, Scheduled] = NOTHING_FIXED,
    ) -> None:
        self._pieces = pieces
        self._fixed = fixed
        self._setting = setting
        self._windows = windows
        self._waits = waits
        lifted = setting.lifted(setting.first) if setting.coats_before else None
        """When coats that were put on before can be lifted, which may be after everything is ready."""
        self._last = max(*(window.last for window in windows.values()), lifted or 0)
        self._relations: list[Relation] = []
        self._holds: list[Hold] = []
        self._activities: list[Activity] = []
        self._at_once: list[SerialBatch] = []
        """What goes on directly where something else ends, by whoever did that."""
        self._coats = [
            (piece, operation) for piece in pieces for operation in piece.open if operation.finish is not None
        ]
        aired = [
            operation
            for piece in pieces
            for operation in piece.open
            if operation.finish is None and setting.keeps_dust_off(operation)
        ]
        self._all_air = max(1, len(self._coats) + len(setting.coats_before) + len(aired))
        """Of the air of a room: sanding takes all of it, a coat that is not dust-free its part, as does its vapour."""
        self._lying = DueSoon(pieces, setting, waits)
        self._turns: list[Turns] | None = None
        if turns:
            slots = {operation.id: setting.slots_of(operation) for piece in pieces for operation in piece.open}
            self._turns = [alike for piece in pieces for alike in turns_of(piece, slots)]
        self._sanders = [name for name, skills in setting.skills.items() if "sanding" in skills]
        settling = setting.settling_slots
        self._dust_lies: Rule | None = (lambda end: end + settling) if settling else None
        """Until when the dust of sanding lies in the way of a coat; None where it never does."""
        self._all_dust = max(
            1, sum(operation.makes_dust for piece in pieces for operation in all_operations(piece.open))
        )
        """Of the quiet for a coat: it takes all of it, the dust of one sanding that has not settled its part."""
        every = [
            apart for piece in pieces for operation in all_operations(piece.open) for apart in setting.apart(operation)
        ]
        self._keepers = Counter(apart.kind for apart in every if apart.keeps_out)
        """How many keep others out, by what is kept apart."""
        self._passing = Counter(apart.kind for apart in every if not apart.keeps_out and apart.tail)
        """How many are kept out for another time than they take."""
        self._coaters = [name for name, skills in setting.skills.items() if {"coating", "spraying"} & skills]

    def placement(self) -> Placement:
        """Return the problem."""
        self._add_coats_before()
        for piece in self._pieces:
            for operation in piece.open:
                self._add_operation(piece, operation)
        for turns in self._turns or ():
            self._relations += [Lag(earlier, later, 0) for earlier, later in turns.pairs()]
        finishes = {piece.key: tuple(self._finishes(piece)) for piece in self._pieces}
        again = tuple(
            coat.again.id for piece, coat in self._coats if coat.again is not None and self._may_need_again(piece, coat)
        )
        cleaned = tuple(coat.clean_up.id for _, coat in self._coats if coat.clean_up is not None)
        problem = Problem(
            activities=tuple(map(self._as_fixed, self._activities)),
            horizon=self._last,
            relations=tuple(self._relations),
            capacities=self._capacities(),
            calendars=self._setting.spans,
            holds=tuple(self._holds),
            batches=(*clean_up_batches(self._coats, self._setting, self._turns), *self._at_once),
            deadlines=tuple(
                Deadline(finish.activity, due, finish.rule)
                for piece in self._pieces
                if (due := self._windows[piece.key].due) is not None
                for finish in finishes[piece.key]
            ),
        )
        return Placement(
            problem,
            finishes,
            tuple(tuple(self._first_of(piece)) for piece in self._pieces),
            again,
            cleaned,
        )

    def _as_fixed(self, activity: Activity) -> Activity:
        """Return an activity that starts when it is said to, where it is fixed."""
        at = self._fixed.get(activity.name)
        return activity if at is None else replace(activity, starts=(Slots(at.start, at.start + 1),))

    # --- operations -------------------------------------------------------------------------------------------------

    def _add_operation(self, piece: PieceWork, operation: Operation) -> None:
        setting, window = self._setting, self._windows[piece.key]
        earliest = window.first
        for after in operation.after:
            if after.id in piece.done:
                earliest = max(earliest, self._after_done(piece, after, operation))
            else:
                self._relations.append(self._wait(piece, after, operation))
                if operation.at_once:
                    self._at_once.append(SerialBatch((after.id,), (operation.id,)))
                over_by = self._lying.over_by(piece.operation(after.id), operation)
                if over_by is not None:
                    self._relations.append(NotAfter(after.id, operation.id, over_by))
        if operation.over is not None:
            self._add_window(piece, operation, earliest)
        starts = setting.starts(operation, first=window.first, last=window.last)
        latest = self._lying.latest(operation)
        follows = operation.at_once and any(after.id not in piece.done for after in operation.after)
        activity = self._activity(piece, operation, optional=follows)
        self._activities.append(replace(activity, earliest=earliest, latest=latest, starts=starts))
        if operation.clean_up is not None:
            self._activities.append(self._activity(piece, operation.clean_up, optional=True))
        if operation.finish is not None:
            self._hold_rack(piece, operation)
        self._hold_dust(piece, operation)
        for work in (operation, *clean_ups([operation])):
            for apart in setting.apart(work):
                self._keep_out(work, apart)

    def _add_coats_before(self) -> None:
        """Add the coats that were put on before, which may still be wet, or become too hard: as work of no length."""
        setting = self._setting
        there = setting.lifted(setting.first)
        if there is None:
            return
        person = next(
            name for name, spans in setting.spans.items() if any(span.start <= there < span.end for span in spans)
        )
        for piece, coat in setting.coats_before:
            self._activities.append(Activity(coat.id, (Mode(0, calendar=person),), starts=(Slots(there, there + 1),)))
            self._hold_dust(piece, coat)
            following = piece.following(coat)
            if following is None or following.id not in piece.done:
                self._hold_rack(piece, coat)

    def _activity(self, piece: PieceWork, operation: Operation, *, optional: bool = False) -> Activity:
        setting = self._setting
        modes = tuple(
            Mode(
                setting.slots_of(operation),
                self._demands(operation, person),
                calendar=person,
                pausable=setting.pauses(operation, person),
                name=person,
            )
            for person in setting.who(operation)
        )
        if operation.makes_dust and self._dust_lies is not None:
            self._holds += [Hold(_quiet_of(coater), 1, operation.id, self._dust_lies) for coater in self._coaters]
        return Activity(operation.id, modes, earliest=self._first(piece), optional=optional)

    def _first(self, piece: PieceWork) -> int:
        window = self._windows.get(piece.key)
        return 0 if window is None else window.first

    def _demands(self, operation: Operation, person: str) -> dict[str, int]:
        demands = {_time_of(person): 1}
        if operation.sprays:
            demands[SPRAY] = 1
        if operation.makes_dust and self._setting.minds_dust:
            demands[_dust_of(person)] = self._all_air
        if self._setting.settling(operation):
            demands[_quiet_of(person)] = self._all_dust
        for apart in self._setting.apart(operation):
            if apart.alone:
                demands[apart.kind] = 1
            keepers = self._keepers[apart.kind]  # none where all that keeps out has been done
            if not apart.keeps_out and not apart.tail and keepers:
                demands[_apart_of(apart.kind, person)] = keepers
        return demands

    def _keep_out(self, operation: Operation, apart: Apart) -> None:
        """Let an operation keep others out of its room: it holds a part of the leave of everybody to work there.

        And all of the leave to come in, of which each that does holds a part.
        """
        rule: Rule | None = lambda end: end + apart.tail  # noqa: E731
        passing = self._passing[apart.kind]
        if apart.keeps_out:
            people = self._setting.spans
            self._holds += [Hold(_apart_of(apart.kind, person), 1, operation.id, rule) for person in people]
            self._holds += [Hold(_leave_to_enter(apart.kind), passing, operation.id, rule)] if passing else []
        elif apart.tail and self._keepers[apart.kind]:
            self._holds.append(Hold(_leave_to_enter(apart.kind), 1, operation.id, rule))

    def _wait(self, piece: PieceWork, after: After, operation: Operation) -> NotBefore:
        rule = self._waits.reaches(piece.operation(after.id), after, operation)
        return NotBefore(after.id, operation.id, rule)

    def _after_done(self, piece: PieceWork, after: After, operation: Operation) -> int:
        free_from = self._waits.after_done(piece, after, operation)
        return self._last + 1 if free_from is None else free_from

    # --- the recoat window ------------------------------------------------------------------------------------------

    def _may_need_again(self, piece: PieceWork, operation: Operation) -> bool:
        return (
            operation.again is not None
            and operation.over is not None
            and (self._waits.too_hard(piece.operation(operation.over)) is not None)
        )

    def _add_window(self, piece: PieceWork, operation: Operation, earliest: int) -> None:
        """Add the abrading that a coat needs where it comes too late."""
        below = piece.operation(operation.over or "")
        rule = self._waits.too_hard(below)
        again = operation.again
        if rule is None or again is None:
            return
        name, again_name = operation.id, again.id
        late = self._is_too_late(piece, operation)
        if not late:
            limit = self._waits.since(piece, below, rule)
            self._relations.append(NotAfter(below.id, name, limit, unless=again_name))
        window = self._windows[piece.key]
        starts = self._setting.starts(again, first=window.first, last=window.last)
        abrading = self._activity(piece, again, optional=not late)
        self._activities.append(replace(abrading, earliest=earliest, starts=starts))
        self._relations += [self._wait(piece, after, again) for after in operation.after if after.id not in piece.done]
        self._relations.append(NotBefore(again_name, name))

    def _is_too_late(self, piece: PieceWork, operation: Operation) -> bool:
        """Return whether the coat below was put on before, so long ago that it is too hard whatever comes now."""
        done = piece.done.get(operation.over or "")
        rule = None if done is None else self._waits.too_hard(piece.operation(operation.over or ""))
        last = None if done is None or rule is None else rule(self._setting.slot_from(done))
        return last is not None and last < self._first(piece)

    def _first_of(self, piece: PieceWork) -> Iterator[str]:
        """Give what can come first of a piece: what waits for nothing, and the abrading that it surely needs."""
        for operation in piece.open:
            if all(after.id in piece.done for after in operation.after):
                yield operation.id
                if operation.again is not None and self._is_too_late(piece, operation):
                    yield operation.again.id

    # --- rack, dust and spraying ------------------------------------------------------------------------------------

    def _hold_rack(self, piece: PieceWork, coat: Operation) -> None:
        """Let a wet item keep its places until the next work on it, or until it is lifted."""
        following = piece.following(coat)
        until = None if following is None or piece.key not in self._windows else following.id
        lifted = self._waits.since(piece, coat, self._waits.lifted(coat))
        for resource, amount in zip((PLACES, HOOKS), piece.rack[coat.item], strict=True):
            # What is larger than the rack takes all of it; the rest stands elsewhere, and the timetable says so.
            taken = min(amount, self._capacity(resource))
            self._holds.append(Hold(resource, taken, coat.id, lifted, until))

    def _capacity(self, resource: str) -> int:
        rack = self._setting.shop.rack
        return rack.places if resource == PLACES else rack.hooks

    def _hold_dust(self, piece: PieceWork, operation: Operation) -> None:
        if not self._setting.keeps_dust_off(operation):
            return
        until = self._waits.since(piece, operation, self._waits.fit_for_dust(operation))
        self._holds += [Hold(_dust_of(person), 1, operation.id, until) for person in self._sanders]

    def _capacities(self) -> dict[str, int]:
        people = self._setting.spans
        capacities = {_time_of(person): 1 for person in people}
        capacities |= {_dust_of(person): self._all_air for person in people}
        capacities |= {_quiet_of(person): self._all_dust for person in people}
        for kind, many in self._keepers.items():
            capacities |= {kind: 1, **{_apart_of(kind, person): many for person in people}}
        capacities |= {_leave_to_enter(kind): many for kind, many in self._passing.items()}
        return {**capacities, SPRAY: 1, PLACES: self._capacity(PLACES), HOOKS: self._capacity(HOOKS)}

    # --- ready ------------------------------------------------------------------------------------------------------

    def _finishes(self, piece: PieceWork) -> Iterator[Finish]:
        """Give when each coat is fit for the customer, a soft one under a quick one too, and the end of other work."""
        waited_for = {after.id for operation in piece.operations for after in operation.after}
        for operation in piece.open:
            name = operation.id
            if operation.finish is not None:
                yield Finish(name, self._waits.fit(operation))
            elif operation.id not in waited_for:
                yield Finish(name)


def _time_of(person: str) -> str:
    return f"time of {person}"


def _dust_of(person: str) -> str:
    return f"dust by {person}"


def _apart_of(kind: str, person: str) -> str:
    return f"{kind}/{person}"


def _leave_to_enter(kind: str) -> str:
    return f"{kind}/let in"


def _quiet_of(person: str) -> str:
    return f"settled dust for {person}"
