"""What the YAML parser complains of, in the words of somebody who wrote the file in an editor."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from finplan.problems import shown
from finplan.reading.text import as_written

_COLON = re.compile(r":\s")
_CLOSED_UP = re.compile(r"\s*+(?:-\s++)?+([A-Za-z][\w-]*+):([^\s:]++.*+)")
"""A field with its value right behind the colon."""
_FIELD = re.compile(r"[a-z][a-z-]*+:\S.*+")
_FIGURES = re.compile(r"\d++(?:\s*+[^\d\s,]++)?+")

Fault = tuple[int, int, str, str]
"""Line and column, from 1; what is wrong; what is expected."""


def fault_of(error: Any, text: str) -> Fault:
    """Return what a ``MarkedYAMLError`` of PyYAML means in *text*."""
    mark = error.problem_mark or error.context_mark
    never_closed = mark and error.context_mark and mark.index >= len(text.rstrip())
    if never_closed:
        mark = error.context_mark  # what is never closed is best shown where it opens
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    lines = text.splitlines()
    for number in (line, line - 1):
        written = lines[number - 1] if 0 < number <= len(lines) else ""
        tab = written.find("\t")
        if "#" not in written[: tab + 1] and 0 <= tab <= len(written) - len(written.lstrip()):
            return number, tab + 1, "a tab stands at the beginning of the line", "use spaces: YAML takes no tabs there"
    for number in (line, line - 1):
        closed_up = _CLOSED_UP.fullmatch(lines[number - 1]) if 0 < number <= len(lines) else None
        if closed_up and "key" in f"{error.context} {error.problem}" + ("key" if number < line else ""):
            field, value = closed_up.groups()
            column = closed_up.start(2)
            return (number, column, *_no_space(field, value))
    if never_closed and "expected ','" in str(error.problem):
        return line, column, "a bracket or a brace is opened here and never closed", "close it"
    told = _told_of(lines[line - 1][: column + 1], f"{error.context} {error.problem}") if line <= len(lines) else None
    if told is not None:
        return (line, column, *told)
    problem = " ".join(str(error.problem or "is not YAML").split())
    context = f" ({error.context})" if error.context else ""
    return line, column, f"is not well-formed YAML: {problem}{context}", "see the line and the one above"


def _told_of(written: str, said: str) -> tuple[str, str] | None:
    """Return what is wrong in a line up to where the parser stopped, by what it *said*; None where it is not seen."""
    one_value = re.split(r"[,{\[]", f"{written} ")[-1]
    if len(_COLON.findall(one_value)) > 1 and not set(one_value) & set("'\"#"):
        wrong = "a second colon stands in one value"
        return wrong, 'put text with a colon in quotes, "Table: round", and a comma between fields in braces'
    if "escape" in said or "hexdecimal" in said:  # as the parser spells it
        return "a backslash stands before what is no sign", "write the sign itself, or the text in single quotes"
    if "quoted scalar" in said:
        return (
            "a quote is opened here and never closed",
            "close it; a quote inside has to be of the other sort",
        )
    if re.search(r"['\"][^'\"]*+['\"]\S.?\Z", written):
        return "something follows a closing quote", "use the other sort of quotes around text that holds one"
    if "mapping values" in said or "did not find expected key" in said:
        return "the line is moved in otherwise than the fields it belongs to", "begin fields of one group at one column"
    return None


def fault_of_key(name: str, value: Any, before: Sequence[Any]) -> tuple[str, str] | None:
    """Return what is wrong where a field without a value was hardly meant as one; None where it may be.

    Parameters
    ----------
    name
        Of the field, written without quotes
    value
        What it holds
    before
        The values of the fields before it in the same group
    """
    if value is not None:
        return None
    if _FIELD.fullmatch(name):
        field, _, meant = name.partition(":")
        return _no_space(field, meant)
    last = before[-1] if before else None
    if _FIGURES.fullmatch(name) and not isinstance(last, bool) and isinstance(last, (int, float, str)):
        whole = as_written(last)
        if whole and whole[-1].isdigit():
            return f"a comma stands in the number {whole},{name}", f"write a point: {whole}.{name}"
    return None


def _no_space(field: str, value: str) -> tuple[str, str]:
    return f"no space stands after the colon of {shown(field)}", f"expected {field}: {value[:40].strip()}"
