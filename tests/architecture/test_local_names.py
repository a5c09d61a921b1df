"""A local name says what it holds: ``one`` and ``found`` stand only where any thing is meant, or what was found."""

from __future__ import annotations

import ast
from functools import cache

from tests.architecture.modules import HOUSE, nodes, trees

ALLOWED: dict[str, frozenset[str]] = {
    "one": frozenset(
        {
            # One beside another: two stretches, chains, sections, vectors, causes, activities, operations of one kind.
            *("geometry/crossing.py", "geometry/outline.py", "inputs/shapes/section.py", "learning/normal.py"),
            *("material/total.py", "page/lists.py", "page/written.py", "scheduling/model.py", "surface/turned.py"),
            *("timetable/construct/all_ready.py", "timetable/operations.py", "timetable/shared_clean_up.py"),
            # A value of plain data, whatever it is.
            *("data/row.py", "lookup/record_data.py", "lookup/record_lines.py", "page/meant.py", "sheet/care_text.py"),
            # The number one, and that there is one only, after which the words go.
            *("quantity/scales.py", "inputs/logger.py", "bench/film.py", "bench/ticked.py"),
        }
    ),
    "found": frozenset(
        {
            # What was looked up, a program or a pattern.
            *("cli/catalogue.py", "cli/demo.py", "cli/fields.py"),
            *("page/starting.py", "quantity/text.py", "sanding/group.py"),
            # The causes of a fault that were found.
            "page/fault_pages.py",
            # What the planner has found: a ``Found``.
            *("timetable/answer.py", "timetable/at_once.py", "timetable/dates.py", "timetable/help/later.py"),
            *("timetable/help/tries.py", "timetable/keep.py", "timetable/late.py", "timetable/search.py"),
            *("timetable/least_late.py", "timetable/ready_early.py", "timetable/solve.py", "timetable/sure.py"),
            "timetable/sure_enough.py",
        }
    ),
}
"""The modules in which nothing better is meant, and what is meant there."""


@cache
def _named_so() -> dict[str, frozenset[str]]:
    modules: dict[str, set[str]] = {name: set() for name in ALLOWED}
    for file, tree in trees().items():
        for node in nodes(tree):
            name = _bound(node)
            if name in modules:
                modules[name].add(file.relative_to(HOUSE).as_posix())
    return {name: frozenset(files) for name, files in modules.items()}


def _bound(node: ast.AST) -> str | None:
    if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
        return node.id
    return node.arg if isinstance(node, ast.arg) else None


def test_no_other_module_calls_things_so() -> None:
    assert {name: sorted(files - ALLOWED[name]) for name, files in _named_so().items() if files - ALLOWED[name]} == {}


def test_no_module_is_allowed_what_it_does_not_do() -> None:
    assert {
        name: sorted(files - _named_so()[name]) for name, files in ALLOWED.items() if files - _named_so()[name]
    } == {}
