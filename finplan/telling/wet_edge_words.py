"""How much of a coat can be kept wet, in words: who helps, or how a large face is divided."""

from __future__ import annotations

from finplan.planning import Plan, WetEdge
from finplan.quantity import Units
from finplan.showing import show_duration, show_rough_area, show_temperature


def wet_edge_lines(of_step: str, side: str, plan: Plan, *, once: bool = False) -> tuple[str, ...]:
    """Return what is said at a coat; nothing where one person keeps each of its faces wet as a whole.

    Parameters
    ----------
    of_step, side
        The id of its step, and the side of the item
    plan
        The plan
    once
        Whether what an earlier step has said word for word is said by its number
    """
    edges = (edge for edge in plan.wet_edges if (edge.of_step, edge.side) == (of_step, side) and edge.alone > 1)
    return tuple((once and _as_at(wet_edge, plan)) or wet_edge_words(wet_edge, plan.units) for wet_edge in edges)


def _as_at(edge: WetEdge, plan: Plan) -> str:
    """Return at which earlier step the same is said; empty where at none that has a number."""
    words = wet_edge_words(edge, plan.units)
    first = next(other for other in plan.wet_edges if wet_edge_words(other, plan.units) == words)
    number = next(row.number for row in plan.timetable.steps if row.id == first.row)
    return "" if first.row == edge.row or number is None else f"Wet edge as at step {number}."


def wet_edge_words(edge: WetEdge, units: Units) -> str:
    """Return what can be kept wet, how large the face is, and what is done about it, in one sentence."""
    air = f"{show_duration(edge.open_h)} at {show_temperature(edge.temperature_c, units)}"
    keeps = f"{show_rough_area(edge.plans_m2, units)} in {air}"
    if edge.wiped:
        room = f"the {edge.part} has {show_rough_area(edge.area_m2, units)}, one person wipes off {keeps}"
    else:
        room = f"a strip of the {edge.part} takes {show_rough_area(edge.asks_m2, units)}, one person lays {keeps}"
    divided = _with_helper(edge) if edge.helper is not None else _parts(edge.alone, edge.wiped)
    return f"Wet edge: {room}: {divided}"


def _with_helper(edge: WetEdge) -> str:
    work = "one puts on, the other wipes off behind" if edge.wiped else "side by side, from one end to the other"
    helps = f"{edge.helper} is free then and helps, {work}"
    if edge.together == 1:
        return f"{helps}."
    return f"{helps}, and {_parts(edge.together, edge.wiped)}"


def _parts(parts: int, wiped: bool) -> str:
    if not wiped:
        return f"in {parts} lengths that meet at a joint or an edge."
    return f"in {parts} strips along the grain that meet at a joint or an edge, each wiped off before the next."
