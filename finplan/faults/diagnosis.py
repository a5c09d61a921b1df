"""What is wrong with a coat: likely causes in this plan, what rules others out, what to do, and from when."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import get_args

from finplan.catalogue import CannotOccur, Catalogue, CoatFault, FaultAnswer, FaultCause, PlanFact
from finplan.faults.air_facts import AIR_FACTS
from finplan.faults.evidence import Evidence
from finplan.faults.scene import Scene
from finplan.faults.thing_facts import THING_FACTS
from finplan.faults.time_facts import TIME_FACTS
from finplan.problems import NotPossibleError, did_you_mean, nearest, shown
from finplan.timetable import stage_time

FACTS: Mapping[PlanFact, Callable[[Scene], Evidence]] = {**AIR_FACTS, **TIME_FACTS, **THING_FACTS}
"""Every fact that causes ask for; ``get_args(PlanFact)`` has them all."""

_BORNE_OUT, _BY_RECORD = 3, 4
"""How many times as likely a cause is taken that the plan, or the record, bears out. Our own weighing."""

if set(get_args(PlanFact)) - set(FACTS):
    raise AssertionError(set(get_args(PlanFact)) - set(FACTS))


@dataclass(frozen=True, slots=True)
class CauseHere:
    """One cause of a fault, as it stands in this plan."""

    name: str
    record: FaultCause
    likely: int
    """1 to 5, by the catalogue."""
    evidence: Evidence

    @property
    def score(self) -> int:
        """By what causes are ordered."""
        if self.evidence.standing != "found":
            return self.likely
        return self.likely * (_BY_RECORD if self.evidence.recorded else _BORNE_OUT)


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """A fault of one coat, looked at in its plan."""

    name: str
    record: CoatFault
    scene: Scene
    answer: FaultAnswer | None
    """What to do; None where it cannot occur in this finish."""
    cannot: CannotOccur | None
    """Why it cannot occur; None where it can."""
    causes: tuple[CauseHere, ...]
    """Borne out or possible, the likeliest first."""
    excluded: tuple[CauseHere, ...]
    """Ruled out, by plan or record."""
    worked_from: datetime | None
    """From when it may be worked, where it is as thick as the answer says; None where nothing says when it was on."""

    @property
    def found(self) -> tuple[CauseHere, ...]:
        """The causes that plan or record bear out."""
        return tuple(cause for cause in self.causes if cause.evidence.standing == "found")

    @property
    def to_look_for(self) -> tuple[CauseHere, ...]:
        """The causes of which neither can say."""
        return tuple(cause for cause in self.causes if cause.evidence.standing == "possible")


def fault_named(typed: str, catalogue: Catalogue) -> str:
    """Return the name of a fault that is typed by its name, its standard term or a word of the trade.

    Raises
    ------
    NotPossibleError
        It is none; names the nearest.
    """
    by_word = words_for_faults(catalogue)
    wanted = "-".join(typed.strip().lower().replace("_", " ").replace("-", " ").split())
    if wanted not in by_word:
        near = nearest(wanted, by_word)
        meant = did_you_mean(wanted, catalogue.faults) if near is None else f"did you mean '{by_word[near]}'?"
        msg = f"{shown(typed)} is no fault that the catalogue knows; {meant}"
        raise NotPossibleError(msg)
    return by_word[wanted]


def words_for_faults(catalogue: Catalogue) -> dict[str, str]:
    """Return every word by which a fault is called, with its name."""
    words: dict[str, str] = {}
    for name, fault in catalogue.faults.items():
        term = () if fault.term is None else (fault.term.lower().replace(" ", "-"),)
        words |= dict.fromkeys((*fault.aliases, *term), name)
    return words | {name: name for name in catalogue.faults}


def diagnosed(scene: Scene, name: str) -> Diagnosis:
    """Return what is known of a fault of a coat; *name* is that of a record."""
    record = scene.catalogue.faults[name]
    finish, of = scene.step.finish, scene.finish
    cannot, answer = record.ruled_out(finish, of), record.answer(finish, of)
    looked = (
        [] if answer is None else [_cause(scene, cause.cause, cause.likely) for cause in record.causes_in(finish, of)]
    )
    ordered = sorted(looked, key=lambda cause: (-cause.score, cause.name))
    return Diagnosis(
        name=name,
        record=record,
        scene=scene,
        answer=answer,
        cannot=cannot,
        causes=tuple(cause for cause in ordered if cause.evidence.standing != "excluded"),
        excluded=tuple(cause for cause in ordered if cause.evidence.standing == "excluded"),
        worked_from=None if answer is None else _worked_from(scene, answer),
    )


def possible_faults(scene: Scene) -> tuple[Diagnosis, ...]:
    """Return every fault of a coat: those that can occur first, by how likely their likeliest cause is here."""
    every = [diagnosed(scene, name) for name in scene.catalogue.faults]
    best = {diagnosis.name: max((cause.score for cause in diagnosis.found), default=0) for diagnosis in every}
    order = list(scene.catalogue.faults)
    return tuple(
        sorted(
            every, key=lambda diagnosis: (diagnosis.answer is None, -best[diagnosis.name], order.index(diagnosis.name))
        )
    )


def _cause(scene: Scene, name: str, likely: int) -> CauseHere:
    record = scene.catalogue.fault_causes[name]
    return CauseHere(name, record, likely, FACTS[record.fact](scene))


def _worked_from(scene: Scene, answer: FaultAnswer) -> datetime | None:
    """Return from when a place of the coat that is so many times as thick has dried as far as the answer asks."""
    drying = scene.drying(scene.step.finish)
    if scene.put_on is None or drying is None or scene.air is None:
        return None
    stage = stage_time(scene.finish, answer.until)
    thickness = scene.coats[-1].thickness * answer.times_as_thick
    minute = drying.reached(scene.minute(scene.put_on[1]), stage.phase, stage.hours.typical, thickness)
    return None if minute is None else scene.air.start + timedelta(minutes=minute)
