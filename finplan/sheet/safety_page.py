"""What is reckoned of safety: the air of each session, dust, limits of vapour, and what touches food or children."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finplan.listing import some
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.safety import SessionReport
from finplan.showing import plain
from finplan.telling import (
    BASIS,
    AirCells,
    Names,
    air_cells,
    air_remedy_words,
    cartridge_words,
    condition_words,
    contact_words,
    dust_words,
    extractor_words,
    gives_words,
    has_fan,
    reckoned_words,
    session_coats,
    session_words,
    to_measure_words,
    too_early_words,
    vapour_words,
    verdict_words,
)


@dataclass(frozen=True, slots=True)
class AirRow:
    """The air of one session."""

    number: int
    what: str
    coats: str
    """Of it what is put on alone."""
    start: str
    cells: AirCells
    vapour: str
    gives: str
    reckoned: str
    """How much the air holds of what may be breathed and of what burns; empty where nothing is known of the room."""
    conditions: tuple[str, ...]
    """What is ticked before the tin is opened."""
    verdict: str
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SafetyPage:
    """What is reckoned of safety."""

    comes_first: str
    sessions: tuple[AirRow, ...]
    has_fan: bool
    """Whether any room of them has one."""
    to_measure: str
    """What to measure where nothing is known of a room's air; empty elsewhere."""
    basis: str
    cartridges: str
    """How long a mask is worn, and when its cartridges are changed; empty where none is."""
    extractor: str
    dust: tuple[str, ...]
    rules: tuple[str, ...]
    contact: tuple[str, ...]


def safety_page(plan: Plan) -> SafetyPage:
    """Return what is reckoned of the safety of a plan."""
    return SafetyPage(
        comes_first=plan.cautions[0].comes_first,
        sessions=_sessions(plan),
        has_fan=has_fan([report.session for report in plan.safety.sessions]),
        to_measure=to_measure_words(plan.safety.to_measure, plan.units),
        basis=BASIS,
        cartridges=cartridge_words(plan.safety),
        extractor=extractor_words(plan.safety.dust),
        dust=tuple(dust_words(plan.safety.dust, plan.units)),
        rules=_rules(plan),
        contact=tuple(contact_words(plan)),
    )


def _sessions(plan: Plan) -> tuple[AirRow, ...]:
    """Return the sessions; what is to be done about several alike is said once."""
    rows: list[AirRow] = []
    said: dict[tuple[str, ...], int] = {}
    names = Names(plan)
    for number, report in enumerate(plan.safety.sessions, 1):
        row = _row(number, report, names, plan)
        first = said.setdefault(row.remedies, number)
        rows.append(row if first == number or not row.remedies else replace(row, remedies=(f"As for {first}.",)))
    return tuple(rows)


def _row(number: int, report: SessionReport, names: Names, plan: Plan) -> AirRow:
    session, units = report.session, plan.units
    return AirRow(
        number=number,
        what=some(session_words(report, names, plan)),
        coats=session_coats(report, names, plan),
        start=f"{session.room}, {show_moment(report.start)}" if report.start else session.room,
        cells=air_cells(session, plan),
        vapour=vapour_words(session, units),
        gives=gives_words(session, units),
        reckoned=reckoned_words(session),
        conditions=tuple(condition_words(condition, session, plan) for condition in report.conditions),
        verdict=verdict_words(session),
        remedies=(
            *air_remedy_words(report.remedies, plan.catalogue, units),
            *(too_early_words(row, names) for row in report.too_early),
        ),
    )


def _rules(plan: Plan) -> tuple[str, ...]:
    finishes = plan.catalogue.finishes
    lines: list[str] = []
    for line in plan.safety.voc:
        holds = f"{plain(line.voc_g_l.low)} to {plain(line.voc_g_l.high)} g/L ready to use"
        standing = "The tin decides." if line.standing == "depends on the tin" else f"This type is {line.standing}."
        rule = f"{line.jurisdiction}, {line.category}: {line.limit_g_l:g} g/L"
        lines.append(f"{finishes[line.finish].title}: {holds}; {rule}. {standing}")
    return tuple(lines)
