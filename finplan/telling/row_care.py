"""What a row of work asks for of safety, in words: what is ticked before it, worn in it, and minded in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Caution
from finplan.listing import listed
from finplan.moments import not_before, show_moment
from finplan.planning import Plan
from finplan.safety import RowCare
from finplan.telling.conditions import condition_words
from finplan.telling.row_air import only_dries_there, row_air_words
from finplan.telling.step_number import step_numbers
from finplan.timetable import TimetableStep

_WORN = ("mask", "breathing-protection")
"""Conditions of the air that are ticked with what is worn."""


@dataclass(frozen=True, slots=True)
class CareWords:
    """What is said of the safety of a row, whatever the number of its stretches."""

    opens: bool
    """Whether anything is ticked before it; else a person goes straight on with the same."""
    on: tuple[str, ...]
    """What is worn, thing by thing, a mask with what sits on it."""
    asked: tuple[str, ...]
    """What is ticked before it is begun: what the air rests on, and what cautions ask for."""
    at_hand: tuple[str, ...]
    """What stands ready or lies at hand, thing by thing; ticked there too."""
    mind: tuple[str, ...]
    """What is minded in it."""
    air: tuple[str, ...]
    """What is reckoned of the air in it, where something is put on or cleaned."""
    air_enough: bool
    """Whether that says that it is enough."""

    @property
    def worn(self) -> str:
        """What is worn, in a list; empty where nothing is."""
        return ", ".join(self.on)

    @property
    def before(self) -> tuple[str, ...]:
        """What is ticked before it is begun, what is worn last."""
        return _ticked(self.asked, self.at_hand, [self.worn] if self.on else []) if self.opens else ()

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is minded in it, with the air where that is not enough."""
        return self.mind if self.air_enough else (*self.mind, *self.air)

    @property
    def wear(self) -> str:
        """What is worn, in one sentence, where it is not ticked before."""
        return f"Wear: {self.worn}." if self.on and not self.opens else ""


def row_care_words(care: RowCare, plan: Plan, *, brief: bool = False) -> CareWords:
    """Return what is said of a row; *brief* where a table beside it tells of the air of each session at length."""
    cautions = [plan.catalogue.cautions[code] for code in care.codes]
    before = (_asked_before(caution, care) for caution in cautions)
    asked = (*_conditions(care, plan), *(words for words in before if words is not None))
    return CareWords(
        opens=care.opens,
        on=_worn(care.uses, care.needs, plan.catalogue),
        asked=asked if care.opens else (),
        at_hand=_ready(care.uses, care.needs, plan.catalogue) if care.opens else (),
        mind=(
            *air_to_sand_in(care),
            *_air_to_heat_in(care),
            *_out_of_there(care, plan.catalogue),
            *(caution.row for caution in cautions if caution.row is not None),
        ),
        air=row_air_words(care, plan.units, plan.safety.sessions if brief else ()),
        air_enough=care.air_enough,
    )


def _asked_before(caution: Caution, care: RowCare) -> str | None:
    """Return what a caution has ticked before a row; a mask for the air of another room is asked for by its name."""
    masked = {report.session.room for report in care.sessions if report.session.mask is not None}
    own = {report.session.room for report in care.sessions if not only_dries_there(report, care.row)}
    if caution.before is None or "short-of-air" not in caution.applies or masked & own or not masked:
        return caution.before
    return f"Everybody who wears no mask is out of {listed(sorted(masked))}, where it dries."


def air_to_sand_in(care: RowCare) -> tuple[str, ...]:
    """Return that a row of sanding waits for the air, where it is planned sooner; whoever sands then waits or airs."""
    if care.fit_from is None:
        return ()
    fit = show_moment(not_before(care.fit_from))
    return (f"NOT BEFORE {fit}: by this reckoning the air here still holds too much vapour to sand in. Air, and wait.",)


def _air_to_heat_in(care: RowCare) -> tuple[str, ...]:
    """Return that a row with something hot waits for the air, where it is planned sooner."""
    if care.lit_from is None:
        return ()
    fit = show_moment(not_before(care.lit_from))
    return (f"NOT BEFORE {fit}: by this reckoning the air here may still hold vapour that burns. Air, and wait.",)


def _out_of_there(care: RowCare, catalogue: Catalogue) -> tuple[str, ...]:
    """Return how what is worked on gets out of a room that nobody else comes into."""
    if care.fetched is None:
        return ()
    until = show_moment(not_before(care.fetched.until))
    mask = None if care.fetched.mask is None else catalogue.equipment[care.fetched.mask].called
    if care.fetched.done_there and mask is not None:
        return (
            f"Vapour of what was put on: until {until} the air here is not fit to work in without a {mask} against "
            "vapour. Wait, or wear it.",
        )
    if care.fetched.done_there:
        return (
            f"Isocyanate was put on here: until {until} nobody is here without breathing protection as the safety data "
            "sheet demands. Wait, or wear it.",
        )
    if mask is not None:
        return (
            f"It stands in {care.fetched.room}, which until {until} nobody enters without a {mask} against vapour: "
            "have it handed out, or wear one.",
        )
    return (
        f"It stands in {care.fetched.room}, where nobody but who puts isocyanate on comes in until {until}: have it "
        "handed out, or wear the same breathing protection.",
    )


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


def _worn(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> tuple[str, ...]:
    worn = {name: catalogue.consumables[name] for name in uses if catalogue.consumables[name].worn}
    on_mask = [record.called or record.title for record in worn.values() if record.on_mask]
    said = [
        f"{record.called} with {' and '.join(on_mask)}" if record.holds and on_mask else record.called
        for record in (catalogue.equipment[name] for name in needs)
        if record.worn
    ]
    said += [record.called or record.title for record in worn.values() if not record.on_mask]
    return tuple(said)


def before_all(rows: Sequence[tuple[TimetableStep, CareWords]]) -> tuple[str, ...]:
    """Return what is ticked before rows that are worked in one go; nothing where none opens anything.

    What is at hand for any of them is one tick, and what is worn another: what is put on to begin with, then what more
    at later steps, by their numbers.
    """
    opening = [care for _, care in rows if care.opens]
    if not opening:
        return ()
    wearing = [(row, care.on) for row, care in rows if care.on]
    first = wearing[0][1] if wearing else ()
    later: dict[tuple[str, ...], list[TimetableStep]] = {}
    for row, on in wearing:
        if more := tuple(thing for thing in on if thing not in first):
            later.setdefault(more, []).append(row)
    return _ticked(
        [line for care in opening for line in care.asked],
        [thing for care in opening for thing in care.at_hand],
        [*([", ".join(first)] if first else []), *(_worn_at(some, more) for more, some in later.items())],
    )


def _worn_at(rows: Sequence[TimetableStep], things: Sequence[str]) -> str:
    numbers = step_numbers(rows)
    return f"at step{'s' if len({row.number for row in rows}) > 1 else ''} {numbers} {', '.join(things)}"


def _ticked(asked: Iterable[str], at_hand: Iterable[str], worn: Sequence[str]) -> tuple[str, ...]:
    ready = dict.fromkeys(at_hand)
    return (
        *dict.fromkeys(asked),
        *((f"At hand: {', '.join(ready)}.",) if ready else ()),
        *((f"On: {'; '.join(worn)}.",) if worn else ()),
    )


def _ready(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> tuple[str, ...]:
    """Return what stands ready, or lies at hand."""
    ready = [record.called for record in (catalogue.equipment[name] for name in needs) if not record.worn]
    at_hand = [record for record in (catalogue.consumables[name] for name in uses) if not record.worn]
    return (*ready, *(record.called for record in at_hand if record.called is not None))
