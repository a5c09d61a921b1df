"""The page on safety: the air of each session, dust, limits of organic vapour, and what touches food or children."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finplan.listing import listed, some
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.quantity import Range, Units
from finplan.safety import Reckoning, Session, SessionReport
from finplan.showing import capital, plain, show_air, show_flow, show_mass, show_of_limit, show_share
from finplan.telling import BASIS, Names, cured_words, marked, verdict_words

_WHOM = {"food": "food", "child": "children"}


@dataclass(frozen=True, slots=True)
class AirRow:
    """The air of one session."""

    number: int
    what: str
    start: str
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
    to_measure: str
    """What to measure where nothing is known of a room's air; empty elsewhere."""
    basis: str
    cartridges: str
    """How long a mask is worn, and when its cartridges are changed; empty where none is."""
    dust: tuple[str, ...]
    rules: tuple[str, ...]
    contact: tuple[str, ...]


def safety_page(plan: Plan) -> SafetyPage:
    """Return the page on safety of a plan."""
    return SafetyPage(
        comes_first=plan.cautions[0].comes_first,
        sessions=_sessions(plan),
        to_measure=plan.safety.to_measure,
        basis=BASIS,
        cartridges=_cartridges(plan),
        dust=_dust(plan),
        rules=_rules(plan),
        contact=_contact(plan),
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
    air = None if session.fan_on is None else session.fan_on.flow_m3_h
    by_id = {row.id: row for row in plan.timetable.steps}
    return AirRow(
        number=number,
        what=some([f"{names.of_row(by_id[step])}: {by_id[step].step}" for step in report.steps]),
        start=f"{session.room}, {show_moment(report.start)}" if report.start else session.room,
        vapour=_grams(Range.total(session.vapours.values()), units),
        gives="not known" if air is None else show_flow(air, units),
        reckoned=_reckoned(session),
        conditions=tuple(condition.text for condition in report.conditions),
        verdict=verdict_words(session),
        remedies=(
            *report.remedies,
            *(
                f"{names.of_row(row)}, {row.step} on {show_moment(row.start)} comes before the air is fit to sand in."
                for row in report.too_early
            ),
        ),
    )


def _reckoned(session: Session) -> str:
    """Return what the air holds, in a sentence; empty where nothing is known of the room."""
    found, off = session.fan_on, session.fan_off
    if found is None:
        return ""
    without = f" (without the fan {_breathed(off).rstrip(',')})" if off is not None else ""
    return (
        f"By this reckoning the air holds {_breathed(found)} of what may be breathed{without}, and "
        f"{show_of_limit(found.high.fire, 'what burns')} at the worst moment near the work."
    )


def _breathed(found: Reckoning) -> str:
    if found.typical.breathing is None or found.high.breathing is None:
        return "an unknown share"
    return f"{show_share(found.typical.breathing)}, at the most {show_share(found.high.breathing)},"


def _grams(mass_g: Range, units: Units) -> str:
    return f"{show_mass(mass_g.typical, units)}, up to {show_mass(mass_g.high, units)}"


def _cartridges(plan: Plan) -> str:
    uses = plan.safety.cartridges
    if not uses:
        return ""
    worn = listed(f"{use.person} for {plain(use.worn_h, 2)} h" for use in uses)
    life_h = uses[0].life_h
    return (
        f"A mask against vapour is worn by {worn}; its cartridges last {life_h.low:g} to {life_h.high:g} h (common "
        "trade practice), and are ticked for change by the shortest. Nobody shares a mask."
    )


def _dust(plan: Plan) -> tuple[str, ...]:
    dust, units = plan.safety.dust, plan.units
    lines = [
        f"Sanding makes {_grams(dust.dust_g, units)} of dust. The extractor is of class {dust.extractor[-1]}: it lets "
        f"through {dust.passes_pct:g} % at most."
    ]
    limits = listed(f"{line.jurisdiction} {line.limit_mg_m3:g} mg/m³" for line in dust.limits)
    lines.append(f"The air may hold, as a mean over a working day: {limits}.")
    hangs_g = dust.limits[0].in_the_air_g
    if hangs_g is not None and dust.volume_m3 is not None and dust.room is not None:
        lines.append(
            f"In {dust.room} ({show_air(dust.volume_m3, units)}) no more than {plain(hangs_g * 1000, 2)} mg may hang "
            "in the air at once for the strictest of them. Empty bags and extractor, and vacuum ledges, every day."
        )
    else:
        lines.append("How large the bench room is nobody said. Empty bags and extractor, and vacuum ledges, every day.")
    return tuple(lines)


def _rules(plan: Plan) -> tuple[str, ...]:
    finishes = plan.catalogue.finishes
    lines: list[str] = []
    for line in plan.safety.voc:
        holds = f"{plain(line.voc_g_l.low)} to {plain(line.voc_g_l.high)} g/L ready to use"
        standing = "The tin decides." if line.standing == "depends on the tin" else f"This type is {line.standing}."
        rule = f"{line.jurisdiction}, {line.category}: {line.limit_g_l:g} g/L"
        lines.append(f"{finishes[line.finish].title}: {holds}; {rule}. {standing}")
    return tuple(lines)


def _contact(plan: Plan) -> tuple[str, ...]:
    items = {
        f"{treatment.key}{treatment.item}": marked(treatment.item, plan.piece_of(treatment), plan)
        for treatment in plan.treatments
    }
    return tuple(
        f"{capital(items[line.item])}, contact with {_WHOM[line.contact]}: {line.text}"
        + (f" {capital(cured_words(line.cured))}." if line.cured else "")
        for line in plan.safety.contact
    )
