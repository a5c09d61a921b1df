"""Whether the air does for a row of work, in a short sentence."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.moments import not_before, show_moment
from finplan.quantity import Units
from finplan.safety import Reckoning, RowCare, Session, SessionReport
from finplan.showing import show_flow, show_of_limit, show_share
from finplan.telling.conditions import DRAWS

_TOO_LITTLE = "DO NOT BEGIN: by this reckoning too little air against fire."


def too_little_air(care: RowCare) -> tuple[str, ...]:
    """Return the words for a row that is not begun, since its air may burn; none where it may be."""
    return (_TOO_LITTLE,) if any(_may_burn(report.session) for report in care.sessions) else ()


def _may_burn(session: Session) -> bool:
    return session.verdict in ("fire danger", "above the planning target")


def row_air_words(
    care: RowCare, units: Units, numbered: Sequence[SessionReport] = (), *, of_days: bool = False
) -> tuple[str, ...]:
    """Return what is reckoned of the air of a row, where something is put on or cleaned in it.

    Where all sessions of the plan are *numbered* in a table beside it, it is what to do, and which of them says more.
    Where it is said *of_days*, of several at once, each of them says until when.
    """
    numbers = {id(report): number for number, report in enumerate(numbered, 1)}
    in_order = sorted(care.sessions, key=lambda report: only_dries_there(report, care.row))
    told = dict.fromkeys(
        air_words(report, care.row, units, numbers.get(id(report), 0), of_days=of_days) for report in in_order
    )
    return tuple(filter(None, told))


def air_words(report: SessionReport, row_id: str, units: Units, number: int = 0, *, of_days: bool = False) -> str:
    """Return in one short sentence whether the air does for a row of a session, for the bench.

    Where it has a *number* in a table: what to do, and by how much it does only where that is not enough. Of the room
    to which a coat is carried to dry nothing where its air does: nobody works there. *of_days* is as for a row.
    """
    session = report.session
    if only_dries_there(report, row_id):
        return _where_it_dries(report, number, of_days=of_days)
    reckoning = session.fan_on
    of_row = [emission for emission in session.emissions if emission.id == row_id]
    if any(emission.booth_only for emission in of_row) and not session.in_booth:
        told = [_TOO_LITTLE] if _may_burn(session) else []
        told.append("No booth: sprayed without one on the word of the shop file.")
        told += [_shut(report, of_days=of_days)] if session.isocyanate else []
        return " ".join(told)
    if _may_burn(session):
        return _TOO_LITTLE
    cleans_gun = not any(emission.sprayed for emission in of_row) and any(emission.at_booth for emission in of_row)
    if session.in_booth and cleans_gun:
        flow = show_flow(session.air.booth_m3_h, units)
        return f"Clean the gun in the booth, its exhaust ON ({flow}), until the vapour is gone."
    if session.isocyanate:
        return _shut(report, of_days=of_days)
    if reckoning is None or (session.air.missing and session.verdict == "unknown"):
        return "Air not known: vapour mask, doors and windows open on two sides. Measure the room."
    if reckoning.typical.breathing is None or reckoning.high.breathing is None:
        return "Air to breathe not known: mask as the safety data sheet says."
    typical, high = reckoning.typical.breathing, reckoning.high.breathing
    if session.in_booth and session.verdict == "enough":
        flow, most = show_flow(session.air.booth_m3_h, units), show_of_limit(high, "the limit")
        return f"Booth ON ({flow}): then at the most {most} by this reckoning. The mask is for the mist."
    fan = f"{DRAWS[session.air.draws]} ON ({show_flow(session.air.fan_m3_h, units)})" if session.air.fan_m3_h else ""
    shares = f"{show_of_limit(typical, 'the limit')} ({_at_most(reckoning)})"
    if number:
        return _brief_words(session, fan, show_of_limit(typical, "the limit"), number)
    if session.verdict != "enough":
        enough = "; no more than half is called enough" if typical <= 1 else ""
        return f"Vapour mask{', ' + fan if fan else ''}: by this reckoning {shares}{enough}."
    if session.rests_on_fan:
        return f"{fan}: then the air does by this reckoning, {shares}. {_without_fan(session)}"
    with_or_without = " with the fan or without" if fan else ""
    return f"The air does{with_or_without} by this reckoning, {shares}."


def only_dries_there(report: SessionReport, row_id: str) -> bool:
    """Return whether all that a row gives off in a session comes from what was carried into its room to dry."""
    return all(emission.carried for emission in report.session.emissions if emission.id == row_id)


def _shut(report: SessionReport, *, of_days: bool) -> str:
    """Return that a room is shut to all others while isocyanate is put on there, and after it."""
    until = _fit_until(report, of_days=of_days)
    enters = f" Nobody but who puts it on comes in {until}." if until else ""
    return f"Air alone does not do for isocyanate.{enters}"


def _where_it_dries(report: SessionReport, number: int, *, of_days: bool) -> str:
    """Return what is to be known of the room to which a coat is carried; empty where its air does."""
    session = report.session
    if _may_burn(session):
        return f"{_TOO_LITTLE.rstrip('.')} in {session.room}, where it dries."
    if session.verdict == "enough":
        return ""
    until = _fit_until(report, of_days=of_days) or "while it is wet"
    mask = "breathing protection as the safety data sheet demands" if session.isocyanate else "a vapour mask"
    on = session.fan_on
    known = session.verdict != "unknown" and on is not None and on.typical.breathing is not None
    share = show_of_limit(on.typical.breathing, "the limit") if known and on and on.typical.breathing else ""
    more = ", ".join(filter(None, (share or "its air is not known", f"air {number}" if number else "")))
    return f"Then {session.room}: who goes in there {until} wears {mask} ({more}). A note at its door says so."


def _fit_until(report: SessionReport, *, of_days: bool) -> str:
    """Return until when the air of a room is not fit to work in, and what is put on still wet; empty if not known."""
    if report.fit_to_enter is None:
        return ""
    return "before the time that each day says" if of_days else f"until {show_moment(not_before(report.fit_to_enter))}"


def _brief_words(session: Session, fan: str, typical: str, number: int) -> str:
    """Return what to do about the air of a session, which is told at length under its number."""
    if session.verdict != "enough":
        return f"Vapour mask{' and fan' if fan else ''} ON: {typical} (air {number})."
    if session.rests_on_fan:
        return f"{fan}: then the air does (air {number}). {_without_fan(session)}"
    return f"The air does{' with the fan or without' if fan else ''}."


def _at_most(reckoning: Reckoning) -> str:
    """Return what it comes to at the most, and what is done then."""
    told = f"at the most {show_share(reckoning.high.breathing or 0.0)}"
    return f"{told}: then a mask" if reckoning.breathing == "close" else told


def _without_fan(session: Session) -> str:
    if session.fan_off is None or session.fan_off.typical.breathing is None:
        return "Without it nobody knows: vapour mask."
    if session.fan_off.verdict != "too little to breathe":
        return "Without it do not begin."
    return f"Without it {show_share(session.fan_off.typical.breathing)}: vapour mask."
