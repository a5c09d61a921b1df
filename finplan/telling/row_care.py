"""What a row of work asks for of safety, in words: what is ticked before it, worn in it, and minded in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.moments import not_before, show_moment
from finplan.planning import Plan
from finplan.safety import RowCare
from finplan.telling.conditions import condition_words
from finplan.telling.row_air import row_air_words

_WORN = ("mask", "breathing-protection")
"""Conditions of the air that are ticked with what is worn."""


@dataclass(frozen=True, slots=True)
class CareWords:
    """What is said of the safety of a row, whatever the number of its stretches."""

    worn: str
    """What is worn, a mask with what sits on it; empty where nothing is."""
    before: tuple[str, ...]
    """What is ticked before it is begun, what is worn last; nothing where a person goes straight on with the same."""
    at_hand: tuple[str, ...]
    """What of that stands ready or lies at hand, thing by thing, as ``at_hand_words`` tells it in one line."""
    mind: tuple[str, ...]
    """What is minded in it."""
    air: tuple[str, ...]
    """What is reckoned of the air in it, where something is put on or cleaned."""
    air_enough: bool
    """Whether that says that it is enough."""

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is minded in it, with the air where that is not enough."""
        return self.mind if self.air_enough else (*self.mind, *self.air)

    @property
    def wear(self) -> str:
        """What is worn, in one sentence, where it is not ticked before."""
        return f"Wear: {self.worn}." if self.worn and not self.before else ""


def row_care_words(care: RowCare, plan: Plan, *, brief: bool = False) -> CareWords:
    """Return what is said of a row; *brief* where a table beside it tells of the air of each session at length."""
    cautions = [plan.catalogue.cautions[code] for code in care.codes]
    worn = _worn(care.uses, care.needs, plan.catalogue)
    before: tuple[str, ...] = ()
    ready: tuple[str, ...] = ()
    if care.opens:
        ready = _ready(care.uses, care.needs, plan.catalogue)
        before = (
            *_conditions(care, plan),
            *(caution.before for caution in cautions if caution.before is not None),
            *((at_hand_words(ready),) if ready else ()),
            *((f"On: {worn}.",) if worn else ()),
        )
    return CareWords(
        worn=worn,
        before=before,
        at_hand=ready,
        mind=(*air_to_sand_in(care), *(caution.row for caution in cautions if caution.row is not None)),
        air=row_air_words(care, plan.units, plan.safety.sessions if brief else ()),
        air_enough=care.air_enough,
    )


def air_to_sand_in(care: RowCare) -> tuple[str, ...]:
    """Return that a row of sanding waits for the air, where it is planned sooner; whoever sands then waits or airs."""
    if care.fit_from is None:
        return ()
    fit = show_moment(not_before(care.fit_from))
    return (f"NOT BEFORE {fit}: by this reckoning the air here still holds too much vapour to sand in. Air, and wait.",)


def _conditions(care: RowCare, plan: Plan) -> tuple[str, ...]:
    """Return what the air of a row rests on, as far as it is not worn."""
    return tuple(
        dict.fromkeys(
            condition_words(condition, report.session, plan)
            for report in care.sessions
            for condition in report.conditions
            if care.row in condition.steps and condition.kind not in _WORN
        )
    )


def _worn(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> str:
    worn = {name: catalogue.consumables[name] for name in uses if catalogue.consumables[name].worn}
    on_mask = [record.called or record.title for record in worn.values() if record.on_mask]
    said = [
        f"{record.called} with {' and '.join(on_mask)}" if record.holds and on_mask else record.called
        for record in (catalogue.equipment[name] for name in needs)
        if record.worn
    ]
    said += [record.called or record.title for record in worn.values() if not record.on_mask]
    return ", ".join(said)


def at_hand_words(things: Iterable[str]) -> str:
    """Return the line in which is ticked that things stand ready."""
    return f"At hand: {', '.join(things)}."


def _ready(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> tuple[str, ...]:
    """Return what stands ready, or lies at hand."""
    ready = [record.called for record in (catalogue.equipment[name] for name in needs) if not record.worn]
    at_hand = [record for record in (catalogue.consumables[name] for name in uses) if not record.worn]
    return (*ready, *(record.called for record in at_hand if record.called is not None))
