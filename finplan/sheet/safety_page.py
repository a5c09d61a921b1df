"""What is reckoned of safety: the air of each session, dust, limits of vapour, and what touches food or children."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.listing import some
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.safety import SessionReport
from finplan.telling import (
    BASIS,
    AirCells,
    AirPool,
    Names,
    air_cells,
    cartridge_words,
    contact_words,
    dust_words,
    extractor_words,
    gives_words,
    has_fan,
    pooled_air,
    reckoned_words,
    session_coats,
    session_words,
    to_measure_words,
    vapour_words,
    verdict_words,
    voc_words,
)

_COLON = ": "
"""Behind a flow, and before what comes of it."""
_WORDY = 40
"""Letters of a cell from which more than a flow and a share is said in it."""


@dataclass(frozen=True, slots=True)
class AirRow:
    """The air of one session."""

    number: int
    what: str
    coats: str
    """Of it what is put on alone."""
    start: str
    """When; for the table, which names a room that is the only one in its head."""
    where: str
    """With the room."""
    cells: AirCells
    vapour: str
    gives: str
    reckoned: str
    """How much the air holds of what may be breathed and of what burns; empty where nothing is known of the room."""
    verdict: str


@dataclass(frozen=True, slots=True)
class SafetyPage:
    """What is reckoned of safety."""

    comes_first: str
    sessions: tuple[AirRow, ...]
    room: str
    """In which all of them are; empty where they are in several, or there are none."""
    pools: tuple[AirPool, ...]
    """What is done about them, what is alike once."""
    has_fan: bool
    """Whether any room of them has one."""
    flows: tuple[str, str]
    """What the air of all of them is with and without it, where it is the same of all; else empty."""
    to_measure: str
    """What to measure where nothing is known of a room's air; empty elsewhere."""
    basis: str
    cartridges: str
    """How long a mask is worn, and when its cartridges are changed; empty where none is."""
    extractor: str
    dust: tuple[str, ...]
    rules: tuple[str, ...]
    contact: tuple[str, ...]

    @property
    def wordy(self) -> bool:
        """Whether more is said of the air than how far it does, so that its columns are wider."""
        return any(len(row.cells.gets) > _WORDY for row in self.sessions)


def safety_page(plan: Plan) -> SafetyPage:
    """Return what is reckoned of the safety of a plan."""
    rooms = {report.session.room for report in plan.safety.sessions}
    rows = _sessions(plan)
    return SafetyPage(
        comes_first=plan.cautions[0].comes_first,
        sessions=rows,
        room=next(iter(rooms)) if len(rooms) == 1 else "",
        pools=pooled_air(plan),
        flows=(
            _flow_of_all([row.cells.gets for row in rows]),
            _flow_of_all([row.cells.without_fan for row in rows]),
        ),
        has_fan=has_fan([report.session for report in plan.safety.sessions]),
        to_measure=to_measure_words(plan.safety.to_measure, plan.units),
        basis=BASIS,
        cartridges=cartridge_words(plan.precautions),
        extractor=extractor_words(plan.safety.dust),
        dust=tuple(dust_words(plan.safety.dust, plan.units)),
        rules=_rules(plan),
        contact=tuple(contact_words(plan)),
    )


def _flow_of_all(told: Sequence[str]) -> str:
    """Return the flow before the colon, where it is that of several sessions and of all."""
    flows = {words.partition(_COLON)[0] if _COLON in words else "" for words in told}
    return next(iter(flows)) if len(flows) == 1 and len(told) > 1 else ""


def _sessions(plan: Plan) -> tuple[AirRow, ...]:
    names = Names(plan)
    return tuple(_row(number, report, names, plan) for number, report in enumerate(plan.safety.sessions, 1))


def _row(number: int, report: SessionReport, names: Names, plan: Plan) -> AirRow:
    session, units = report.session, plan.units
    return AirRow(
        number=number,
        what=some(session_words(report, names, plan)),
        coats=session_coats(report, names, plan),
        start=show_moment(report.start) if report.start else "",
        where=f"{session.room}, {show_moment(report.start)}" if report.start else session.room,
        cells=air_cells(session, plan),
        vapour=vapour_words(session, units),
        gives=gives_words(session, units),
        reckoned=reckoned_words(session),
        verdict=verdict_words(session),
    )


def _rules(plan: Plan) -> tuple[str, ...]:
    return tuple(voc_words(line, plan.catalogue) for line in plan.safety.voc)
