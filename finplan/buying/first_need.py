"""On which day something is first needed, by the rows of a timetable."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, timedelta

from finplan.material import ConsumableNeed, Supply
from finplan.planning import Plan, PlannedPiece
from finplan.timetable import TimetableStep, steps_by_row

_SANDING = ("sand", "joints")
_ABRADING = ("abrade", "abrade-again", "rub-out", "raise-grain")


class FirstNeeds:
    """The first days of all that a plan uses."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._rows = [row for row in plan.timetable.steps if row.kind == "attended"]
        steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._coats = [(row, steps[row.id][1]) for row in self._rows if row.id in steps and steps[row.id][1].finish]
        self._bare = {
            piece.key: {step.grit for group in piece.sanding.groups for step in group.steps} for piece in plan.pieces
        }

    def used_by(self, bought: Supply | ConsumableNeed) -> tuple[str, ...]:
        """Return the keys of the pieces that use something, in their order; empty where none is known to."""
        return tuple(piece.key for piece in self._plan.pieces if self._uses(piece, bought))

    def _uses(self, piece: PlannedPiece, bought: Supply | ConsumableNeed) -> bool:
        if isinstance(bought, ConsumableNeed) and bought.grit is not None:
            return any(
                (abrasive.abrasive, abrasive.grit) == (bought.name, bought.grit) for abrasive in piece.sanding.abrasives
            )
        return next(self.days(bought, (piece.key,)), None) is not None

    def of(self, bought: Supply | ConsumableNeed, keys: Collection[str] = ()) -> date | None:
        """Return the first day on which something is needed; None where no row of the timetable needs it.

        Parameters
        ----------
        bought
            What is bought
        keys
            Of the pieces that are looked at; all of them where none is named
        """
        return min(self.days(bought, keys), default=None)

    def days(self, bought: Supply | ConsumableNeed, keys: Collection[str] = ()) -> Iterator[date]:
        """Give the days on which something is used; arguments as for ``of``."""
        if isinstance(bought, Supply):
            yield from self._of_supply(bought.material, keys)
        else:
            yield from (row.start.date() for row in self._of_pieces(bought) if not keys or row.key in keys)

    def _of_supply(self, material: str, keys: Collection[str]) -> Iterator[date]:
        for row, step in self._coats:
            if keys and row.key not in keys:
                continue
            finish = self._plan.catalogue.finishes[step.finish or ""]
            if finish.dissolve is not None and material in (step.finish, finish.dissolve.liquid):
                soaks_h = 0.0 if finish.dissolve.wait_h is None else finish.dissolve.wait_h.high
                yield (row.start - timedelta(hours=soaks_h)).date()  # made up before the coat
            elif material in (step.finish, f"{step.finish}-thinner", finish.thinner_solvent, finish.clean_up_solvent):
                yield row.start.date()
        beside = self._beside_coats(material)
        yield from (row.start.date() for row in beside if not keys or row.key in keys)

    def _beside_coats(self, name: str) -> Iterator[TimetableStep]:
        """Give the rows of steps beside the coats that take a liquid or use a thing up."""
        for row in self._rows:
            record = None if row.extra is None else self._plan.catalogue.extra_steps[row.extra]
            if record is not None and name in (*record.liquids, *record.uses, *record.uses_each):
                yield row

    def _of_pieces(self, need: ConsumableNeed) -> Iterator[TimetableStep]:
        if need.grit is not None:
            for row in self._rows:
                if row.deed in (_SANDING if need.grit in self._bare[row.key] else _ABRADING):
                    yield row
            return
        yield from self._beside_coats(need.name)
        worn = self._plan.precautions.gear.rows
        if need.name in worn:
            yield from (row for row in self._rows if row.id in worn[need.name])
            return
        methods = self._plan.catalogue.consumables[need.name].methods
        yield from (row for row, step in self._coats if not methods or step.method in methods)
