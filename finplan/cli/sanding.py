"""The sanding of a piece for a person."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from itertools import groupby

from finplan import nothing
from finplan.catalogue import Catalogue, is_cami
from finplan.cli.table import table
from finplan.planning import Source
from finplan.quantity import MM_PER_IN, Range, Units
from finplan.safety import DustReport
from finplan.sanding import AbrasiveNeed, GroupSanding, LaterWork, OrderStep, SandingPlan
from finplan.showing import capital, plain, show_mass
from finplan.spans import show_work
from finplan.telling import dust_words, loose_dust_words, order_words, part_work_words, sequence_words

WIDTH = 110
"""Letters in a line."""

_GRIT_HEADS = ["grit", "also", "grain", "how", "takes off", "time"]


def sanding_lines(plan: SandingPlan, source: Source, dust: DustReport) -> list[str]:
    """Return a table per part, what follows between the coats, the order, the abrasives and the dust."""
    lines: list[str] = []
    for _, together in groupby(plan.groups_of_one, key=lambda sanded: sanded.group.part):
        groups = list(together)
        group = groups[0].group
        lines += ["", f"{group.part}{f' (all {group.count})' if group.count > 1 else ''}"]
        for sanded in groups:
            lines += ["", *_group_lines(sanded, source.catalogue, source.units)]
        lines += ["", f"  Picking up and turning, all grits: {show_work(plan.handling_of(group.part))}."]
        lines += [f"  With that {part_work_words(groups, group.count)}.", f"  Grits: {sequence_words(groups)}"]
        hints = dict.fromkeys(hint for sanded in groups for hint in sanded.hints)
        lines += ["", *(f"  {hint}" for hint in hints)] if hints else []
    if plan.later:
        rows = [[work.item, work.label, " ".join(_with(work)), show_work(work.hours)] for work in plan.later]
        lines += ["", "After that", "", *table(["item", "step", "with", "time"], rows, "lllr")]
    if not plan.groups:
        lines += ["", nothing.TO_SAND]
    if plan.order or not plan.later:
        lines += ["", "Order", "", *(_order_lines(plan.order) if plan.order else [nothing.TO_DO])]
    abrasives = _abrasive_lines(plan.abrasives) if plan.abrasives else [nothing.ABRASIVES]
    lines += ["", "Abrasives, with those between the coats; 'finplan materials' says what to buy", "", *abrasives]
    if plan.buy:
        lines += ["", f"Grades to buy: {', '.join(plan.buy)}."]
    if any(is_cami(grit) for grit in plan.stock.at_hand):
        lines += [
            "",
            "A number without a P is a CAMI grade; the grade of the other scale beside it is the nearest in size.",
        ]
    rules = source.catalogue.sanding_rules["usual"]
    lines += ["", *dust_words(dust, source.units), *loose_dust_words(plan, dust, rules, source.units)]
    return [part for line in lines[1:] for part in _wrapped(line)]


def _wrapped(line: str) -> list[str]:
    """Return a line, one of words that is too long for a terminal as several under one another."""
    if len(line) <= WIDTH:
        return [line]
    indent = line[: len(line) - len(line.lstrip())]
    return textwrap.wrap(line.strip(), WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")


def _group_lines(sanded: GroupSanding, catalogue: Catalogue, units: Units) -> Iterator[str]:
    group = sanded.group
    yield f"  {group.faces_told}: comes {catalogue.surfaces[group.surface].title.lower()}"
    rows = [
        [
            step.grit,
            _other(step.other_scale),
            f"{step.size_um:g} µm",
            catalogue.sanding_methods[step.method].title,
            show_mass(step.dust_g.typical, units),
            show_work(step.hours),
        ]
        for step in sanded.steps
    ]
    yield from (f"    {line}" for line in table(_GRIT_HEADS, rows, "llrlrr"))
    yield f"    Stop at {sanded.stop_reason}."
    if sanded.veneer is not None:
        depth, spare = sanded.veneer.depth_mm, _thin(sanded.veneer.budget_mm, units)
        low, typical, high = (_thin(mm, units) for mm in (depth.low, depth.typical, depth.high))
        span = f"{typical} ({low} to {high})"
        thick = _thin(sanded.veneer.thickness_mm, units)
        yield f"    Veneer of {thick}: sanding reaches {span}, and {spare} may be sanded."
    if sanded.note:
        yield f"    Note: {sanded.note}."


def _order_lines(order: Iterable[OrderStep]) -> Iterator[str]:
    for item, together in groupby(order, key=lambda step: step.item):
        yield f"  {item}"
        for number, step in enumerate(together, 1):
            yield f"    {number}. {capital(order_words(step))}, {show_work(step.hours)}"
            yield f"       {', '.join(step.faces)}"
            yield f"       {step.reason}"


def _abrasive_lines(abrasives: Iterable[AbrasiveNeed]) -> list[str]:
    rows = [
        [
            need.product,
            need.grit,
            _other(need.other_scale),
            _used(need.needed),
        ]
        for need in abrasives
    ]
    return table(["product", "grit", "also", "needed"], rows, "lllr")


def _thin(length_mm: float, units: Units) -> str:
    return f"{plain(length_mm, 2)} mm" if units == "metric" else f"{plain(length_mm / MM_PER_IN, 2)} in"


def _with(work: LaterWork) -> Iterator[str]:
    for step in work.steps[:1]:
        yield from (step.grit, _other(step.other_scale))


def _other(grade: str) -> str:
    return f"({grade})"


def _used(needed: Range) -> str:
    if needed.high < 0.1:
        return "less than 0.1"
    return f"{plain(needed.typical, 2)} ({plain(needed.low, 2)} to {plain(needed.high, 2)})"
