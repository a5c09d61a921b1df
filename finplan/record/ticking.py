"""Ticking steps of a plan: what they wait for, and what is learnt from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from finplan.catalogue import Catalogue
from finplan.climate import Drying, Weather, air_table, time_by_thickness
from finplan.inputs import LeadTest
from finplan.learning import coated_of
from finplan.ledger import Tick
from finplan.listing import listed
from finplan.material import CoatNeed
from finplan.planning import Plan, steps_before
from finplan.record.liquid_used import liquid_of
from finplan.record.said import NothingLearnt, TickNote, UnfitAir
from finplan.record.typed import TypedError, Used
from finplan.timetable import Operation, all_operations, stage_time


@dataclass(frozen=True, slots=True)
class Ticking:
    """What is to be written down."""

    entry: Tick
    waits_for: tuple[str, ...]
    """Ids of steps that come before and are not ticked."""
    reckoned_ml: float | None
    """What the coats should have taken, where what was used is told."""
    used_ml: float | None
    finish: str | None
    """What was used; None where nothing is told of that."""
    finish_ml: float | None
    """Of it the finish, without its thinner."""
    liquid: bool
    """Whether that is a liquid of a step beside the coats, and not a finish."""
    notes: tuple[TickNote, ...]
    """What is not learnt, and why."""


def ticking(
    plan: Plan,
    steps: Sequence[str],
    done: Mapping[str, datetime],
    *,
    job: str,
    at: datetime,
    entered: datetime,
    dry: bool = False,
    used: Used | None = None,
    took_min: float | None = None,
    air: tuple[float | None, float | None] = (None, None),
    person: str | None = None,
    note: str | None = None,
    result: LeadTest | None = None,
    held: int | None = None,
) -> Ticking:
    """Return an entry for steps of a plan.

    Parameters
    ----------
    plan
        The plan whose numbers they are
    steps
        Their ids
    done
        What is ticked already
    job
        Tells the wood of this job from that of others
    at, entered
        When it was so, and when it is written down
    dry
        Whether the coats were found dry, instead of done
    used, took_min, air, person, note, result
        As told
    held
        The id of the plan in the ledger

    Raises
    ------
    TypedError
        What was used is told of something that is no coat, or of two finishes; no coat among what is found dry.
    """
    used = used or Used()
    # Of all of the job: a step whose tick was taken back is in no plan that was made in between.
    operations = {
        operation.id: operation for piece in plan.pieces for operation in all_operations(piece.reckoned_operations)
    }
    worked = [operations[step] for step in steps if step in operations]
    amount = _amount(plan, steps, operations, used, job)
    observed = amount.observed | _pace(worked, took_min)
    notes = list(amount.notes)
    if dry:
        if not any(operation.finish is not None for operation in worked):
            raise TypedError(
                "only what was put on can be found dry, and none of these steps puts anything on; tick the coat"
            )
        dried = _dried(plan, steps, operations, done, at)
        observed |= dried
        if not dried:
            notes.append(NothingLearnt("not-dried-on"))
    else:
        notes += _out_of_limits(plan, worked, air)
    before = steps_before(plan.pieces)
    sooner = dict.fromkeys(name for step in steps for name in before.get(step, ()))
    waits = () if dry else tuple(name for name in sooner if name not in {*done, *steps})
    entry = Tick(
        steps=tuple(steps),
        at=at,
        entered=entered,
        kind="dry" if dry else "done",
        person=person,
        used_ml=used.ml,
        used_g=used.g,
        can_before_g=used.before_g,
        can_after_g=used.after_g,
        took_min=took_min,
        air_c=air[0],
        humidity_pct=air[1],
        note=note,
        result=result,
        observed=observed,
        plan=held,
    )
    return Ticking(
        entry,
        waits,
        amount.reckoned_ml,
        amount.used_ml,
        amount.finish,
        amount.finish_ml,
        amount.is_liquid,
        tuple(notes),
    )


@dataclass(frozen=True, slots=True)
class _Amount:
    """What an amount that is told comes to, and what is learnt from it."""

    reckoned_ml: float | None = None
    used_ml: float | None = None
    finish: str | None = None
    finish_ml: float | None = None
    is_liquid: bool = False
    observed: dict[Any, Any] = field(default_factory=dict)
    notes: tuple[TickNote, ...] = ()


def _amount(plan: Plan, steps: Sequence[str], operations: Mapping[str, Operation], used: Used, job: str) -> _Amount:
    """Return what comes of what was used: a liquid of steps beside the coats, or a finish; nothing of nothing told."""
    if used == Used():
        return _Amount()
    liquid = liquid_of(plan, steps, operations)
    if liquid is not None:
        if any(step in operations and operations[step].finish is not None for step in steps):
            raise TypedError("these steps use up a liquid and put on a finish; tick each with what was used of it")
        grams = _grams(used)
        ml = used.ml if grams is None else grams / liquid.density_g_ml
        nothing = (NothingLearnt("liquid", liquid.name),)
        return _Amount(liquid.reckoned_ml, ml, liquid.name, ml, is_liquid=True, notes=nothing)
    coats, whole = _coats(plan, steps, operations)
    finish = coats[0].finish
    ml = in_ml(used, finish, plan.catalogue)
    finish_ml = None if ml is None else ml / (1 + coats[0].step.recipe.thin_pct / 100)
    of_coats = _Amount(sum(coat.wet_ml.typical for coat in coats), ml, finish, finish_ml)
    if not whole:
        return replace(of_coats, notes=(NothingLearnt("in-part"),))
    if ml is None:
        return replace(of_coats, notes=(NothingLearnt("no-density", finish),))
    grits = _last_grits(plan)
    told = {"job": job, "coats": [coated_of(coat, grits).plain() for coat in coats]}
    return replace(of_coats, observed={"amount": told})


def _pace(worked: Sequence[Operation], took_min: float | None) -> dict[Any, Any]:
    """Return what a time that is told teaches: of work of one kind, which is planned to take some."""
    deeds = {operation.deed for operation in worked}
    reckoned_min = sum(operation.hours.typical for operation in worked) * 60
    if took_min is None or len(deeds) != 1 or reckoned_min <= 0:
        return {}
    return {"minutes": {"of": deeds.pop(), "reckoned": reckoned_min, "took": took_min}}


@dataclass(frozen=True, slots=True)
class Earlier:
    """What steps that are ticked already were ticked with, to which another entry adds."""

    at: datetime
    person: str | None
    """None where nobody was named, or not the same person for all of them."""


def earlier_of(
    ticks: Sequence[Tick], steps: Sequence[str], numbers: Mapping[str, int], now: datetime, *, told: bool, dry: bool
) -> Earlier | None:
    """Return what steps were ticked with; None where none of them is ticked.

    Parameters
    ----------
    ticks
        The entries of the job that stand, in the order in which they were written down
    steps
        The ids that are ticked now
    numbers
        What steps are called
    now
        When they were done, on the shop's clock; this moment where that is not told
    told
        Whether that is told: then it counts, and otherwise the time that was noted
    dry
        Whether they are found dry, instead of done

    Raises
    ------
    TypedError
        Only some of them are ticked, or not at the same time: one entry would move what was noted.
    """
    last = {step: tick for tick in ticks if (tick.kind == "dry") == dry for step in tick.steps if step in steps}
    if not last:
        return None
    times = {tick.at for tick in last.values()} | ({now} if len(last) < len(set(steps)) else set())
    if len(times) > 1 and not told:
        named = sorted(str(numbers.get(step, step)) for step in last)
        are = "is" if len(named) == 1 else "are"
        raise TypedError(f"{listed(named)} {are} ticked already; tick the others apart from it, or say when with --at")
    people = {tick.person for tick in ticks for step in tick.steps if step in last and tick.person is not None}
    at = now if told else times.pop().astimezone(now.tzinfo)
    return Earlier(at, people.pop() if len(people) == 1 else None)


def _grams(used: Used) -> float | None:
    return used.g if used.before_g is None or used.after_g is None else used.before_g - used.after_g


def in_ml(used: Used, finish: str, catalogue: Catalogue) -> float | None:
    """Return what was used by volume; None where it was weighed and the density is not known. [ml]"""
    if used.ml is not None:
        return used.ml
    grams = _grams(used)
    density = catalogue.finishes[finish].density_g_l
    return None if density is None or grams is None else grams / density.typical * 1000


def _coats(plan: Plan, steps: Sequence[str], operations: Mapping[str, Operation]) -> tuple[Sequence[CoatNeed], bool]:
    """Return the coats that steps put on, and whether they are whole; where one is not, such as one side, what is."""
    put_on = [operations[step] for step in steps if step in operations and operations[step].deed in ("coat", "fill")]
    of_step = dict.fromkeys(operation.of_step for operation in put_on)
    needs = [coat for step in of_step if step is not None and (coat := plan.materials.coat_of(step)) is not None]
    if not needs:
        raise TypedError("what was used is told of a step that puts nothing on; tick the coat with it")
    if len({need.finish for need in needs}) > 1:
        raise TypedError("these steps put on different finishes; tick each with what was used of it")
    deeds = {
        name
        for name, operation in operations.items()
        if operation.of_step in of_step and operation.deed in ("coat", "fill")
    }
    if deeds <= set(steps):
        return needs, True
    sides = [
        plan.materials.measured_at(operation.of_step, operation.side)
        for operation in put_on
        if operation.of_step is not None
    ]
    return [side.coat for side in sides if side is not None], False


def _out_of_limits(
    plan: Plan, worked: Sequence[Operation], air: tuple[float | None, float | None]
) -> Iterator[UnfitAir]:
    """Give every finish that was put on in air that it does not bear."""
    finishes = dict.fromkeys(operation.finish for operation in worked)
    for finish in (plan.catalogue.finishes[name] for name in finishes if name is not None):
        limits = finish.apply
        too_hot_or_cold = air[0] is not None and not limits.temperature_c.holds(air[0])
        too_dry_or_damp = air[1] is not None and not limits.humidity_pct.holds(air[1])
        if too_hot_or_cold or too_dry_or_damp:
            yield UnfitAir(finish, air[0] if too_hot_or_cold else None, air[1] if too_dry_or_damp else None)


def _last_grits(plan: Plan) -> dict[Any, str]:
    return {
        group.group: group.steps[-1].p_grade for piece in plan.pieces for group in piece.sanding.groups if group.steps
    }


def _dried(
    plan: Plan, steps: Sequence[str], operations: Mapping[str, Operation], done: Mapping[str, datetime], at: datetime
) -> dict[str, Any]:
    """Return what a coat that was found dry teaches: how many hours of standard air that took, and should have.

    In the air of the shop, or as it was measured: so a cold night, in which any coat is slow, teaches nothing of the
    finish.
    """
    for step in steps:
        coat, on = operations.get(step), done.get(step)
        if coat is None or coat.finish is None or on is None or coat.next_waits_for == "cure" or at <= on:
            continue
        finish = plan.catalogue.finishes[coat.finish]
        stage = stage_time(finish, coat.next_waits_for)
        begins = on - _BEFORE
        days = (at - begins).days + 1
        table = air_table(Weather(plan.shop.climate, plan.shop.time_zone), begins, days, plan.wishes.measured)
        on_min, at_min = ((moment - begins) / timedelta(minutes=1) for moment in (on, at))
        took_h = Drying(finish, plan.catalogue, table).passed_h(on_min, at_min, stage.phase)
        reckoned_h = stage.hours.typical * time_by_thickness(coat.thickness)
        if took_h > 0 and reckoned_h > 0:
            return {"drying": {"of": coat.finish, "reckoned": reckoned_h, "took": took_h}}
    return {}


_BEFORE = timedelta(days=1)
"""So long before a coat the air is looked at: the piece follows it."""
