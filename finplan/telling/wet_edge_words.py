"""How much of a coat can be kept wet, in words: who helps, or how a large face is divided."""

from __future__ import annotations

from finplan.planning import Plan, WetEdge
from finplan.quantity import Units
from finplan.showing import capital, show_area, show_duration, show_temperature


def wet_edge_lines(of_step: str, side: str, plan: Plan) -> tuple[str, ...]:
    """Return what is said at a coat; nothing where one person keeps each of its faces wet as a whole.

    Parameters
    ----------
    of_step, side
        The id of its step, and the side of the item
    plan
        The plan
    """
    found = (one for one in plan.wet_edges if (one.of_step, one.side) == (of_step, side) and one.alone > 1)
    return tuple(wet_edge_words(one, plan.units) for one in found)


def wet_edge_words(one: WetEdge, units: Units) -> str:
    """Return what can be kept wet, how large the face is, and what is done about it, in two sentences."""
    keeps = show_area(one.plans_m2, units)
    open_for = show_duration(one.open_h)
    until = "is wiped off" if one.wiped else "has lost its wet edge"
    told = (
        f"At {show_temperature(one.temperature_c, units)} one person keeps {keeps} wet before it {until} ({open_for})"
    )
    face = f"{one.part}, {one.face}, has {show_area(one.area_m2, units)}"
    if not one.wiped:
        face = f"{one.part}, {one.face}, asks for {show_area(one.asks_m2, units)} in one strip over its length"
    if one.helper is not None:
        return f"{told}, and the {face}. {_with_helper(one)}"
    return f"{told}, and the {face}. {capital(_parts(one.alone, one.wiped))}"


def _with_helper(one: WetEdge) -> str:
    work = "one puts on, the other wipes off behind" if one.wiped else "side by side, from one end to the other"
    helps = f"{one.helper} is free then and helps: {work}"
    if one.together == 1:
        return f"{helps}."
    return f"{helps}, and {_parts(one.together, one.wiped)}"


def _parts(parts: int, wiped: bool) -> str:
    if not wiped:
        return (
            f"divide its length into {parts} at a joint across it or an edge, and lay off each into the last while wet."
        )
    where = "each over the whole length, meeting at a joint between boards or an edge"
    return f"divide it into {parts} strips along the grain, {where}; wipe each off before the next is begun."
