"""What coats really took, beside what they were planned to take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finplan.ledger import Tick
from finplan.material import CoatNeed, total
from finplan.planning import Plan
from finplan.quantity import Range
from finplan.record.ticking import in_ml
from finplan.record.typed import Used
from finplan.timetable import Operation, all_operations


@dataclass(frozen=True, slots=True)
class UsedCoats:
    """A coat, or several whose amounts were told together. All of the liquid as it goes on. [ml]"""

    coats: tuple[CoatNeed, ...]
    planned_ml: Range
    used_ml: float | None
    """None where nothing is told of it, or only of a part of it."""
    in_part: bool = False
    """Whether something is told, though not of all of it."""

    @property
    def finish(self) -> str:
        """The finish of all of them."""
        return self.coats[0].finish

    @property
    def thin_pct(self) -> float:
        """How much thinner is added to it."""
        return self.coats[0].step.recipe.thin_pct


def used_coats(plan: Plan, ticks: Sequence[Tick]) -> tuple[UsedCoats, ...]:
    """Return every coat of a plan with what was used for it, in the order of the materials; not sample boards.

    Where several entries tell of parts of one coat, such as its sides, their amounts are added up; where one tells of
    several coats together, they stay together, as long as none of them is told anew.
    """
    operations = {operation.id: operation for piece in plan.pieces for operation in all_operations(piece.operations)}
    told = _told(plan, ticks, operations)
    wanted: dict[str, set[str]] = {}
    for operation in operations.values():
        if operation.deed in ("coat", "fill") and operation.of_step is not None:
            wanted.setdefault(operation.of_step, set()).add(operation.id)
    coats = {coat.step.id: coat for coat in plan.materials.coats if coat.board_of is None}
    reviewed: list[UsedCoats] = []
    seen: set[str] = set()
    for step in coats:
        if step in seen:
            continue
        together = _together(step, told, operations)
        seen |= together
        parts = [used for used in told if _steps(used, operations) & together]
        covered = {name for names, _ in parts for name in names}
        whole = bool(parts) and {name for coat in together for name in wanted.get(coat, ())} <= covered
        own = tuple(coats[coat] for coat in coats if coat in together)
        planned = total(term for coat in own for term in coat.wet_terms_ml).range
        used_ml = sum(ml for _, ml in parts) if whole else None
        reviewed.append(UsedCoats(own, planned, used_ml, in_part=bool(parts) and not whole))
    return tuple(reviewed)


_Told = tuple[frozenset[str], float]
"""The operations that an entry tells of, and what was used for them. [ml]"""


def _told(plan: Plan, ticks: Sequence[Tick], operations: Mapping[str, Operation]) -> list[_Told]:
    """Return what was told; of what is told twice, the later entry.

    An entry for several coats of which one is told anew falls away whole: how much of its amount the others
    took, nobody said.
    """
    told: dict[frozenset[str], float] = {}
    for tick in ticks:
        coats = [operations[step] for step in tick.steps if step in operations and operations[step].finish is not None]
        if not coats or tick.kind != "done":
            continue
        used = Used(tick.used_ml, tick.used_g, tick.can_before_g, tick.can_after_g)
        ml = None if used == Used() else in_ml(used, coats[0].coated_with, plan.catalogue)
        if ml is None:
            continue
        names = frozenset(coat.id for coat in coats)
        told = {earlier: used_ml for earlier, used_ml in told.items() if earlier.isdisjoint(names)}
        told[names] = ml
    return list(told.items())


def _steps(told: _Told, operations: Mapping[str, Operation]) -> set[str]:
    return {step for name in told[0] if (step := operations[name].of_step) is not None}


def _together(step: str, told: Sequence[_Told], operations: Mapping[str, Operation]) -> set[str]:
    """Return the coats whose amounts cannot be told apart from that of one."""
    steps = {step}
    while True:
        more = set().union(*(of for entry in told if (of := _steps(entry, operations)) & steps))
        if more <= steps:
            return steps
        steps |= more
