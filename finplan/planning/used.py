"""What a plan rests on: the records of the catalogue that it used, and their sources."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.catalogue import DRYING_PHASES, Catalogue, Finish, Sourced
from finplan.planning.plan import Plan
from finplan.safety import CautionLine
from finplan.timetable import settling_h

RESTS = {"published": "published", "practice": "trade practice", "memory": "memory, not checked"}
"""What a source can be, the surest first, with how that is said."""


def used_sources(plan: Plan) -> tuple[str, ...]:
    """Return the keys of the sources of all records that the plan used, published ones first."""
    keys = {key for line in plan.cautions for key in caution_sources(plan, line)}
    keys |= {line.source for line in plan.safety.voc} | {line.source for line in plan.safety.contact}
    for record in _records(plan):
        keys |= record.source_keys()
    sources, order = plan.catalogue.sources, list(RESTS)
    return tuple(sorted(keys, key=lambda key: (order.index(sources[key].rests), sources[key].title, key)))


def caution_sources(plan: Plan, line: CautionLine) -> dict[str, list[str]]:
    """Return the keys of the sources that a caution rests on here, each with the timbers whose values have it.

    That a timber's dust sensitises is not said by the caution but by each timber's record, so that the source is that
    record's. Where the caution has its own, there are no timbers.
    """
    catalogue = plan.catalogue
    if "allergenic-dust" not in catalogue.cautions[line.code].applies:
        return {line.source: []}
    sources: dict[str, list[str]] = {}
    names = dict.fromkeys(group.timber for treatment in plan.treatments for group in treatment.groups)
    for timber in (catalogue.timbers[name] for name in names):
        if timber.dust.sensitiser > 0:
            sources.setdefault(timber.source_of("dust"), []).append(timber.title)
    return sources


def _solvents(plan: Plan) -> Iterator[str]:
    for report in plan.safety.sessions:
        yield from report.session.vapours


def _laws(finish: Finish, catalogue: Catalogue) -> Iterator[str]:
    """Give the laws by which a finish dries."""
    return (finish.law(phase, catalogue.drying) for phase in DRYING_PHASES)


def _protection(plan: Plan) -> Iterator[Sourced]:
    """Give what draws vapour off where it comes from, and what is worn against it."""
    rooms = plan.shop.rooms.values()
    sessions = [report.session for report in plan.safety.sessions]
    if any(room.extraction is not None for room in rooms) or any(session.booth_only for session in sessions):
        yield from plan.catalogue.exhausts.values()
    for name in dict.fromkeys(session.mask for session in sessions if session.mask is not None):
        yield plan.catalogue.respirators[name]


def _settling(plan: Plan) -> Iterator[Sourced]:
    """Give how long dust is let to settle, where a coat waits for that."""
    methods = (
        plan.catalogue.methods[step.method] for treatment in plan.treatments for step in treatment.steps if step.method
    )
    if any(settling_h(plan.shop, plan.catalogue, method.use) for method in methods):
        yield plan.catalogue.work["let-dust-settle"]


def _records(plan: Plan) -> list[Sourced]:
    """Return the records that the plan used."""
    catalogue = plan.catalogue
    groups = [group for treatment in plan.treatments for group in treatment.groups]
    steps = [step for treatment in plan.treatments for step in treatment.steps]
    finishes = [catalogue.finishes[step.finish] for step in steps if step.finish]
    sanded = [step for piece in plan.pieces for group in piece.sanding.groups for step in group.steps]
    return [
        *(catalogue.systems[treatment.system] for treatment in plan.treatments),
        *(work.record for piece in plan.pieces for work in piece.extras),
        *finishes,
        *(
            catalogue.drying[law]
            for step in steps
            if step.finish
            for law in _laws(catalogue.finishes[step.finish], catalogue)
        ),
        *(catalogue.methods[step.method] for step in steps if step.method),
        *(catalogue.timbers[group.timber] for group in groups),
        *(catalogue.absorption[catalogue.timbers[group.timber].pores] for group in groups),
        *(catalogue.surfaces[group.surface] for group in groups),
        *(catalogue.sanding_methods[step.method] for step in sanded),
        *(catalogue.solvents[name] for name in dict.fromkeys(_solvents(plan)) if name in catalogue.solvents),
        *catalogue.air_targets.values(),
        *catalogue.mixing.values(),
        *catalogue.evaporation.values(),
        *_protection(plan),
        *_settling(plan),
        *(catalogue.dust_limits.values() if sanded else ()),
        *(catalogue.dust_classes.values() if sanded else ()),
        catalogue.grades["p-grade"],
        catalogue.caps["ladder"],
    ]
