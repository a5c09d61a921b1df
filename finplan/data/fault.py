"""What is wrong with a coat."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.catalogue import DriedTo, PlanFact, RepairDeed, RepairStep
from finplan.data.row import AtLeastOne, CountFromOne, Share, row, row_of, rows_of
from finplan.faults import BornOut, CauseHere, Diagnosis
from finplan.quantity import Range
from finplan.telling import coat_words, found_words


@row
class FaultCauseRow:
    """Cause of a fault.

    One cause, as it stands in this plan.
    """

    cause: str
    """A name in the catalogue's fault-causes."""
    likely: CountFromOne
    """How often it is that, by the catalogue: 1 (seldom) to 5 (nearly always)."""
    standing: BornOut
    """Borne out by plan or record: `found`; not to be told from them: `possible`; ruled out by them: `excluded`."""
    fact: PlanFact
    """What of the plan or the record says so; `none` where one has to look."""
    value: float | None
    """What was: °C, % of humidity, hours, ml, a share of 1, %, by the fact; null where there is no figure."""
    limit: float | None
    """What is asked or usual, in the same unit; null where there is none."""
    names: tuple[str, ...]
    """Steps, finishes or timbers that it speaks of."""
    recorded: bool
    """Whether the record says it; else it is the plan's, or the shop file's."""
    words: str
    """The same in a sentence."""


@row
class RepairStepRow:
    """Step of a repair.

    One step of what is done about a fault.
    """

    do: RepairDeed
    """What is done."""
    on: Literal["spot", "item"]
    """Where: on the place alone, or the whole item."""
    only: Literal["always", "last", "not-last"]
    """Whether only where no other coat comes after, or only where one does."""
    grit: str | None
    """With what it is abraded."""
    solvent: str | None
    """With what it is wiped, a name in the catalogue's solvents; null for what thins the finish."""
    wait_h: Range | None
    """Until the next step. [h]"""
    note: str | None
    """What to mind."""


@row
class FaultRow:
    """Fault of a coat.

    What is likely, what is ruled out, and what to do; or why it cannot occur in this finish.
    """

    fault: str
    """A name in the catalogue's faults."""
    term: str | None
    """What ISO 4618 calls it; null where that has no term for it."""
    step: str
    """The id of the coat's step."""
    item: str
    """What was coated."""
    finish: str
    """With what, a name in the catalogue."""
    put_on: datetime | None
    """When that ended, by the record or else by the plan; null where neither says."""
    cannot_because: str | None
    """Why it cannot occur in this finish, as the end of a sentence; null where it can."""
    causes: tuple[FaultCauseRow, ...]
    """Borne out or possible, the likeliest first."""
    excluded: tuple[FaultCauseRow, ...]
    """Ruled out by plan or record."""
    now: str | None
    """What to do at once; null where it cannot occur."""
    until: DriedTo | None
    """How far it has to dry before it is worked."""
    times_as_thick: AtLeastOne | None
    """How many times as thick as the rest it is there."""
    worked_from: datetime | None
    """From when it may be worked, by the air; null where nothing says when it was put on, or never in the time seen."""
    do: str | None
    """What is done then."""
    share: Share | None
    """How much of the item is usually affected."""
    repair: tuple[RepairStepRow, ...]
    """The same as steps."""


@row
class FaultsRow:
    """Faults of a coat.

    What can be wrong with the coat at a step, or one fault of it.
    """

    format: Literal["finplan-fault/1"]
    """Says what this is."""
    number: str
    """What the step is called on the sheet."""
    coat: str
    """Which coat it is, in words."""
    faults: tuple[FaultRow, ...]
    """The one that was asked for; else every one, those that can occur first, the likeliest of them first."""


def faults_data(told: tuple[Diagnosis, ...], called: str) -> FaultsRow:
    """Return faults of one coat, one or all."""
    return FaultsRow(
        format="finplan-fault/1",
        number=called,
        coat=coat_words(told[0].scene),
        faults=tuple(fault_row(diagnosis) for diagnosis in told),
    )


def fault_row(told: Diagnosis) -> FaultRow:
    """Return one fault of a coat."""
    scene, answer = told.scene, told.answer
    zone = scene.plan.shop.time_zone
    return FaultRow(
        fault=told.name,
        term=told.record.term,
        step=scene.step.id,
        item=scene.treatment.item,
        finish=scene.step.finish,
        put_on=None if scene.put_on is None else scene.put_on[1].astimezone(zone),
        cannot_because=None if told.cannot is None else told.cannot.because,
        causes=tuple(_cause(cause, told) for cause in told.causes),
        excluded=tuple(_cause(cause, told) for cause in told.excluded),
        now=None if answer is None else answer.now,
        until=None if answer is None else answer.until,
        times_as_thick=None if answer is None else answer.times_as_thick,
        worked_from=None if told.worked_from is None else told.worked_from.astimezone(zone),
        do=None if answer is None else answer.do,
        share=None if answer is None else answer.share / 100,
        repair=_steps(() if answer is None else answer.steps),
    )


def _steps(steps: tuple[RepairStep, ...]) -> tuple[RepairStepRow, ...]:
    return rows_of(RepairStepRow, steps)


def _cause(cause: CauseHere, told: Diagnosis) -> FaultCauseRow:
    words = found_words(cause, told.scene)
    seen = cause.evidence
    return row_of(
        FaultCauseRow,
        seen,
        cause=cause.name,
        likely=cause.likely,
        words=words,
    )
