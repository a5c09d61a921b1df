"""The work of a job as it is placed: one task for each operation, with all that the shop asks of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache

from finplan.scheduling import Rule
from finplan.timetable.apart import Apart
from finplan.timetable.job import PieceWork
from finplan.timetable.lying import DueSoon
from finplan.timetable.operation import After, Operation
from finplan.timetable.setting import Setting
from finplan.timetable.shared_clean_up import clean_up_kind, pot_life_slots
from finplan.timetable.waits import Waits


@dataclass(frozen=True, slots=True)
class Doer:
    """One person who can do a task."""

    mode: int
    """Their place among the modes of its activity."""
    person: str
    pauses: bool
    clean_up_pauses: bool = False
    aired: int | None = None
    """At which of their open slots the air lets it begin, as bits; None for at any."""


@dataclass(frozen=True, slots=True)
class Wet:
    """What a coat does to the shop until it is dry, or what is wiped with until the air is fit."""

    fit_for_dust: Rule | None
    """Until when nothing may be sanded; None where that is done in another room."""
    lifted: Rule
    """Until when it keeps its places at the longest."""
    places: int
    hooks: int
    following: str | None
    """The task with which its places are free; None where it is lifted."""


@dataclass(frozen=True, slots=True)
class CleanUp:
    """What comes after a coat, unless another of its kind follows at once."""

    name: str
    slots: int
    kind: tuple[object, ...]
    longest: int | None
    """How long a run of several coats may last: the pot life."""


@dataclass(slots=True)
class Task:
    """An operation with what it waits for. Slots."""

    name: str
    piece: str
    """The key of its piece."""
    operation: Operation
    slots: int
    ways: tuple[Doer, ...]
    earliest: int
    """By the start of all work, and by what has been done."""
    waits: tuple[tuple[str, Rule | None], ...]
    """What comes before, with what its end asks."""
    fit: Rule | None
    """When a coat is fit for the customer."""
    dusty: bool = False
    sprays: bool = False
    wet: Wet | None = None
    clean_up: CleanUp | None = None
    over: str | None = None
    """The open coat below that can become too hard, or the task after which it may not wait."""
    too_hard: Rule | None = None
    """The last moment for it, after the end of that."""
    close: int | None = None
    """The same, where that has been done before."""
    again: Task | None = None
    """The abrading with which it can come later; None where it cannot."""
    next_soon: Task | None = None
    """What may not wait after it: it waits for nothing else, and both are placed together."""
    apart: tuple[Apart, ...] = ()
    """What it keeps out of its room, or is kept out by."""
    apart_for: tuple[tuple[Apart, int], ...] = ()
    """For how long after it each of that is in the way: also while it is cleaned up after."""
    before: list[str] = field(default_factory=list)
    """What waits for it."""

    @property
    def is_due(self) -> bool:
        """Whether it is done before all else, as what has been done before lies on the item."""
        return self.close is not None and self.again is None


class Network:
    """All tasks of a job."""

    def __init__(self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits) -> None:
        self._setting, self._waits = setting, waits
        self._lying = DueSoon(pieces, setting, waits)
        self.tasks: dict[str, Task] = {}
        """By name, piece by piece, each after all that it waits for; without what goes on at once."""
        self._freed: dict[tuple[object, ...], Rule] = {}
        """By how it is lifted and what the next work waits for."""
        self._going_on: dict[str, tuple[str, int]] = {}
        """What goes on at once where another task ends: by its name that task, and how long it takes."""
        going_on = [(piece, operation) for piece in pieces for operation in piece.open if _goes_on(piece, operation)]
        for _, operation in going_on:
            self._going_on[operation.id] = (operation.after[0].id, setting.slots_of(operation))
        tasks = [
            self._task(piece, operation)
            for piece in pieces
            for operation in piece.open
            if operation.id not in self._going_on
        ]
        self.tasks |= {task.name: task for task in _in_order(tasks)}
        for piece, operation in going_on:
            self._go_on(piece, operation)
        for task in self.tasks.values():
            for name, _ in task.waits:
                self.tasks[name].before.append(task.name)
            if task.over is not None and task.again is None:
                self.tasks[task.over].next_soon = task
            for done in (task, task.again) if task.again is not None else (task,):
                cleaned = 0 if done.clean_up is None else done.clean_up.slots
                done.apart_for = tuple((apart, cleaned + apart.tail) for apart in done.apart)
        self.wet_before = tuple(self._wet_before(pieces))

    def of_piece(self, key: str) -> list[Task]:
        """Return the tasks of a piece."""
        return [task for task in self.tasks.values() if task.piece == key]

    def freed(self, wet: Wet, coat: str, following: Task) -> Rule:
        """Return until when a coat keeps its places at the least, by its end: it is lifted, or worked on next."""
        rules = tuple(rule for name, rule in following.waits if name == coat)
        key = (wet.lifted, rules)
        if key not in self._freed:

            def freed(end: int) -> int | None:
                moments = [end if rule is None else rule(end) for rule in rules]
                known = [moment for moment in moments if moment is not None]
                worked = self._setting.lifted(max(known)) if known and len(known) == len(moments) else None
                return min((moment for moment in (worked, wet.lifted(end)) if moment is not None), default=None)

            self._freed[key] = cache(freed)
        return self._freed[key]

    def _go_on(self, piece: PieceWork, operation: Operation) -> None:
        """Let a task be followed at once by an operation, which has no task of its own: as a coat by its clean-up."""
        name, slots = self._going_on[operation.id]
        task = self.tasks[name]
        task.clean_up = CleanUp(operation.id, slots, ("at_once", operation.id), None)
        if not any(after.id == operation.id for known in piece.operations for after in known.after):
            task.fit = lambda end: end + slots

    def _after_open(self, piece: PieceWork, after: After, operation: Operation) -> tuple[str, Rule | None]:
        """Return the task that an operation waits for, with what its end asks."""
        rule = self._waits.reaches(piece.operation(after.id), after, operation)
        if after.id not in self._going_on:
            return after.id, rule
        name, slots = self._going_on[after.id]
        return name, lambda end: end + slots if rule is None else rule(end + slots)

    def _task(self, piece: PieceWork, operation: Operation) -> Task:
        setting, waits = self._setting, self._waits
        earliest = setting.first
        rules: list[tuple[str, Rule | None]] = []
        for after in operation.after:
            if after.id in piece.done:
                moment = waits.after_done(piece, after, operation)
                earliest = max(earliest, setting.slots if moment is None else moment)
            else:
                rules.append(self._after_open(piece, after, operation))
        task = Task(
            name=operation.id,
            piece=piece.key,
            operation=operation,
            slots=setting.slots_of(operation),
            ways=tuple(self._ways(operation)),
            earliest=earliest,
            waits=tuple(rules),
            fit=None if operation.finish is None else waits.fit(operation),
            dusty=operation.makes_dust and setting.minds_dust,
            sprays=operation.sprays,
            apart=setting.apart(operation),
        )
        if operation.finish is not None:
            self._make_coat(task, piece, operation)
        else:
            self._may_not_wait(task, piece, operation)
            if setting.keeps_dust_off(operation):
                task.wet = Wet(waits.fit_for_dust(operation), lambda end: end, places=0, hooks=0, following=None)
        return task

    def _may_not_wait(self, task: Task, piece: PieceWork, operation: Operation) -> None:
        task.close = self._lying.latest(operation)
        for after in operation.after:
            rule = None if after.id in piece.done else self._lying.over_by(piece.operation(after.id), operation)
            if rule is not None:
                task.over, task.too_hard = after.id, rule

    def _ways(self, operation: Operation) -> Iterator[Doer]:
        setting = self._setting
        starts = setting.starts(operation, first=setting.first, last=setting.slots - 1)
        for mode, person in enumerate(setting.who(operation)):
            cleaned = operation.clean_up is not None and setting.pauses(operation.clean_up, person)
            aired = None if starts is None else setting.hours[person].within(starts)
            yield Doer(mode, person, setting.pauses(operation, person), cleaned, aired)

    def _make_coat(self, task: Task, piece: PieceWork, coat: Operation) -> None:
        setting, waits = self._setting, self._waits
        task.wet = self._wet(piece, coat)
        if coat.clean_up is not None:
            kind, longest = clean_up_kind(piece, coat, setting), pot_life_slots(coat, setting)
            task.clean_up = CleanUp(coat.clean_up.id, setting.slots_of(coat.clean_up), kind, longest)
        if coat.over is None or coat.again is None:
            return
        below = piece.operation(coat.over)
        task.too_hard = waits.too_hard(below)
        if task.too_hard is None:
            return
        if coat.over in piece.done:
            task.close = task.too_hard(setting.slot_from(piece.done[coat.over]))
        else:
            task.over = coat.over
        again = coat.again
        task.again = Task(
            name=again.id,
            piece=piece.key,
            operation=again,
            slots=setting.slots_of(again),
            ways=tuple(self._ways(again)),
            earliest=task.earliest,
            waits=task.waits,
            fit=None,
            dusty=again.makes_dust and setting.minds_dust,
            apart=setting.apart(again),
        )

    def _wet(self, piece: PieceWork, coat: Operation) -> Wet:
        rack = self._setting.shop.rack
        places, hooks = piece.rack[coat.item]
        dusty = self._setting.keeps_dust_off(coat)
        following = piece.following(coat)
        return Wet(
            self._waits.since(piece, coat, self._waits.fit_for_dust(coat)) if dusty else None,
            self._waits.since(piece, coat, self._waits.lifted(coat)),
            min(places, rack.places),
            min(hooks, rack.hooks),
            None if following is None else following.id,
        )

    def _wet_before(self, pieces: Sequence[PieceWork]) -> Iterator[tuple[str, Wet]]:
        """Give the coats that were put on before, with what they still do to the shop."""
        keys = {piece.key for piece in pieces}
        for piece, coat in self._setting.coats_before:
            wet = self._wet(piece, coat)
            off = wet.following is not None and wet.following in piece.done
            stays = wet.following if piece.key in keys else None
            places, hooks = (0, 0) if off else (wet.places, wet.hooks)
            yield coat.id, Wet(wet.fit_for_dust, wet.lifted, places, hooks, stays)


def _goes_on(piece: PieceWork, operation: Operation) -> bool:
    """Return whether an operation goes on at once where another ends that is still to be done."""
    return operation.at_once and all(after.id not in piece.done for after in operation.after)


def _in_order(tasks: Sequence[Task]) -> Iterator[Task]:
    """Give tasks so that each comes after all that it waits for, else in their order."""
    left = {task.name: task for task in tasks}

    def give(task: Task) -> Iterator[Task]:
        for name, _ in task.waits:
            if name in left:
                yield from give(left.pop(name))
        yield task

    for task in tasks:
        if left.pop(task.name, None) is not None:
            yield from give(task)
