"""What can go wrong with the coats of a job, and what to do, by its finishes: for who stands before it."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import FaultAnswer
from finplan.listing import listed
from finplan.planning import Plan
from finplan.telling.packs import short_title

_STAGE = {"recoat": "another coat may go on", "handle": "it is fit to handle", "cure": "it has cured"}


@dataclass(frozen=True, slots=True)
class FaultDone:
    """What is done about a fault in some finishes."""

    finishes: str
    """Which; empty where it is the same in all of the job in which it can occur."""
    words: str


@dataclass(frozen=True, slots=True)
class JobFault:
    """A fault that can occur in this job."""

    title: str
    looks: str
    done: tuple[FaultDone, ...]


def job_faults(plan: Plan) -> tuple[JobFault, ...]:
    """Return every fault that can occur in a finish of a job, the commonest first, with what to do by the finish."""
    catalogue = plan.catalogue
    names = dict.fromkeys(step.finish for treatment in plan.treatments for step in treatment.put_on)
    faults: list[tuple[int, JobFault]] = []
    for fault in catalogue.faults.values():
        answers: dict[int, tuple[FaultAnswer, list[str]]] = {}
        for name in names:
            answer = fault.answer(name, catalogue.finishes[name])
            if answer is not None:
                answers.setdefault(id(answer), (answer, []))[1].append(name)
        if not answers:
            continue
        alone = len(answers) == 1
        told = tuple(
            FaultDone("" if alone else _titles(of, plan), _done_words(answer)) for answer, of in answers.values()
        )
        likely = max(cause.likely for of in names for cause in fault.causes_in(of, catalogue.finishes[of]))
        faults.append((-likely * len(names), JobFault(fault.title, fault.looks, told)))
    return tuple(fault for _, fault in sorted(faults, key=lambda pair: pair[0]))


def _titles(finishes: list[str], plan: Plan) -> str:
    return listed(short_title(plan.catalogue.finishes[name].title, plan.units).lower() for name in finishes)


def _done_words(answer: FaultAnswer) -> str:
    thick = f", where it is {answer.times_as_thick:g} times as thick" if answer.times_as_thick > 1 else ""
    return f"{answer.now} When {_STAGE[answer.until]}{thick}: {answer.do[:1].lower()}{answer.do[1:]}"
