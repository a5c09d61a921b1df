"""What the air of a coating session holds, in words, and what has to wait until it is fit again."""

from __future__ import annotations

from functools import partial

from finplan.listing import listed, some
from finplan.moments import not_before, show_moment
from finplan.planning import Plan
from finplan.quantity import Range, Units
from finplan.safety import FitAgain, Precautions, Reckoning, Session, SessionReport
from finplan.showing import show_duration, show_flow, show_mass, show_of_limit, show_share
from finplan.spans import show_range
from finplan.telling.after_coat import PUTS_ON
from finplan.telling.names import Names
from finplan.telling.sets import OfItem, names_together
from finplan.telling.step_number import step_numbers
from finplan.telling.vapour import COMES_IN, PURPOSES
from finplan.timetable import TimetableStep

_FEW = 2
"""Kinds of coats that are told in a line."""


def session_words(report: SessionReport, names: Names, plan: Plan) -> list[str]:
    """Return what is put on or cleaned in a session; of a plan that does not fit, as far as anything is known of it."""
    rows = {row.id: row for row in plan.timetable.steps}
    if any(step not in rows for step in report.steps):
        return list(report.labels)
    return [f"{names.of_row(rows[step])}: {rows[step].step}" for step in report.steps]


def session_coats(report: SessionReport, names: Names, plan: Plan) -> str:
    """Return what is put on or wiped in a session, each with its items; of a plan that does not fit, all of it.

    What is more than a line of a table is told by the numbers of its steps.
    """
    rows = {row.id: row for row in plan.timetable.steps}
    if any(step not in rows for step in report.steps):
        return some(list(report.labels))
    by_coat: dict[str, dict[str, OfItem[None]]] = {}
    for row in (rows[step] for step in report.steps):
        if row.deed in PUTS_ON or row.extra is not None:
            by_coat.setdefault(row.step, {})[names.of_row(row)] = names.of_item(row)
    numbers = step_numbers([rows[step] for step in report.steps])
    if len(by_coat) > _FEW and numbers:
        return f"steps {numbers}"
    told = (f"{coat}: {some(names_together(items.values()))}" for coat, items in by_coat.items())
    return "; ".join(told) or "clean up"


def vapour_words(session: Session, units: Units) -> str:
    """Return how much vapour a session gives off."""
    return show_range(Range.total(session.vapours.values()), partial(show_mass, units=units))


def gives_words(session: Session, units: Units) -> str:
    """Return how much fresh air its room gives."""
    return "not known" if session.fan_on is None else show_flow(session.fan_on.flow_m3_h, units)


def reckoned_words(session: Session) -> str:
    """Return what the air holds, in a sentence; empty where nothing is known of the room."""
    reckoning, off = session.fan_on, session.fan_off
    if reckoning is None:
        return ""
    without = f" (without the fan {_breathed(off).rstrip(',')})" if off is not None else ""
    return (
        f"By this reckoning the air holds {_breathed(reckoning)} of what may be breathed{without}, and "
        f"{show_of_limit(reckoning.high.fire, 'what burns')} at the worst moment near the work."
    )


def _breathed(reckoning: Reckoning) -> str:
    if reckoning.typical.breathing is None or reckoning.high.breathing is None:
        return "an unknown share"
    return f"{show_share(reckoning.typical.breathing)}, at the most {show_share(reckoning.high.breathing)},"


def aired_words(report: SessionReport) -> tuple[str, ...]:
    """Return what waits for fresh air after a session, until when, rounded up so that nothing is begun too early."""
    fit = tuple(map(_fit_again_words, report.fit_again))
    if not report.session.isocyanate or report.fit_to_enter is None:
        return fit
    return f"{COMES_IN} until {show_moment(not_before(report.fit_to_enter))}", *fit


def _fit_again_words(fit: FitAgain) -> str:
    if fit.hours is None:
        return f"{PURPOSES[fit.purpose]} for how long cannot be said"
    if fit.at is None:
        return f"{PURPOSES[fit.purpose]} for {show_duration(fit.hours)} once the last coat is on"
    return f"{PURPOSES[fit.purpose]} until {show_moment(not_before(fit.at))}"


def too_early_words(row: TimetableStep, names: Names) -> str:
    """Return that a row of sanding comes before the air is fit for it."""
    return f"{names.of_row(row)}, {row.step} on {show_moment(row.start)} comes before the air is fit to sand in."


def cartridge_words(precautions: Precautions) -> str:
    """Return how long a mask is worn by whom, and when its cartridges are changed; empty where none is."""
    uses = precautions.cartridges
    if not uses:
        return ""
    worn = listed(f"{use.person} for {show_duration(use.worn_h)}" for use in uses)
    life_h = uses[0].life_h
    return (
        f"A mask against vapour is worn by {worn}; its cartridges last {show_duration(life_h.low)} to "
        f"{show_duration(life_h.high)} (common trade practice), and are ticked for change by the shortest. Nobody "
        "shares a mask."
    )
