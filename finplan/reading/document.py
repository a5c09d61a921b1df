"""A YAML 1.2 file as plain data, with the line and column of every value.

Files may come from strangers: nothing in them is run, aliases and tags are refused, and size, depth and number of
values are bounded before anything is built.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, NamedTuple

from finplan.problems import Finding, Problem, RefusedError, Where, hints_anew, show_path, shown
from finplan.reading.faults import fault_of, fault_of_key
from finplan.reading.files import UnreadableError, read_bytes
from finplan.reading.text import number_as_written

MAX_BYTES = 1_000_000
MAX_DEPTH = 24
MAX_VALUES = 50_000

_INTEGER = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,17})")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|(?:0|[1-9][0-9]*)(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]{1,4})?")
_IN_FRONT = frozenset("+-.0123456789")
"""With what a number begins."""
_WORDS: dict[str, Any] = {
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
    "null": None, "Null": None, "NULL": None, "~": None, "": None,
    ".nan": math.nan, ".NaN": math.nan, ".NAN": math.nan,
    ".inf": math.inf, ".Inf": math.inf, ".INF": math.inf, "-.inf": -math.inf, "-.Inf": -math.inf,
}  # fmt: skip


class Mark(NamedTuple):
    """A place in a file, both numbers counted from 1."""

    line: int
    column: int


@dataclass(frozen=True)
class Document:
    """What a file says, and where it says it."""

    file: Path
    data: dict[str, Any]
    values: dict[Where, Mark] = field(default_factory=dict)
    keys: dict[Where, Mark] = field(default_factory=dict)
    digest: str = ""
    """SHA-256 of the text."""

    def problem(self, finding: Finding) -> Problem:
        """Return *finding* with its line; a value that is not in the file is put at the nearest thing that holds it."""
        places = self.keys if finding.at_key else self.values
        path = finding.path
        mark = places.get(path)
        while mark is None and path:
            path = path[:-1]
            # What is missing is best shown at the name of the group that lacks it.
            mark = self.keys.get(path) or self.values.get(path)
        mark = mark or Mark(1, 1)
        return Problem(
            self.file,
            mark.line,
            mark.column,
            show_path(finding.path),
            finding.wrong,
            finding.expected,
            finding.severity,
            finding.name,
        )


def read_document(file: Path) -> Document:
    """Return the contents of a YAML file with the place of every value.

    Parameters
    ----------
    file
        A text file in UTF-8, at most MAX_BYTES long

    Raises
    ------
    RefusedError
        The file cannot be read, is not YAML, or is larger or deeper than a file of ours can be.
    """
    try:
        raw = read_bytes(file, MAX_BYTES)
    except UnreadableError as error:
        raise _refused(file, error.wrong, error.expected) from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _refused(file, "is not text in UTF-8", "expected a text file saved as UTF-8", line) from None
    return document_of(text, file)


def document_of(text: str, file: Path) -> Document:
    """Return the contents of a text as those of a file, with its digest; *file* is only named in problems.

    Raises
    ------
    RefusedError
        As ``read_document``.
    """
    try:
        raw = text.encode("utf-8")
    except UnicodeEncodeError:  # half of a character, which a file in UTF-8 cannot hold
        raise _refused(file, "is not text in UTF-8", "expected whole characters") from None
    if len(raw) > MAX_BYTES:
        raise _refused(file, f"is longer than {MAX_BYTES:,} bytes", "expected a shorter one")
    return replace(parse_document(text, file), digest=hashlib.sha256(raw).hexdigest())


def _refused(file: Path, wrong: str, expected: str, line: int = 1) -> RefusedError:
    return RefusedError([Problem(file, line, 1, "the file", wrong, expected)])


def parse_document(text: str, file: Path) -> Document:
    """Return the contents of YAML *text*; *file* is only named in problems.

    Raises
    ------
    RefusedError
        The text is not YAML as described at the head of this module.
    """
    import yaml

    hints_anew()
    # libyaml reads the catalogue some sixty times faster than Python does; both give the same events.
    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    builder = _Builder(file)
    try:
        return builder.build(yaml.parse(text, Loader=loader))
    except yaml.MarkedYAMLError as error:
        line, column, wrong, expected = fault_of(error, text)
        raise RefusedError([Problem(file, line, column, "the file", wrong, expected)]) from None
    except yaml.YAMLError as error:
        position = getattr(error, "position", 0)
        line = text[:position].count("\n") + 1 if isinstance(position, int) else 1
        problem = Problem(file, line, 1, "the file", "holds a character that text may not hold", "remove it")
        raise RefusedError([problem]) from None


class _Builder:
    """Builds the document from the parser's events, so that the bounds hold before anything large exists."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.values: dict[Where, Mark] = {}
        self.keys: dict[Where, Mark] = {}
        self.problems: list[Problem] = []
        self.count = 0

    def stop(self, event: Any, path: Where, wrong: str, expected: str) -> RefusedError:
        mark = _mark(event)
        problem = Problem(self.file, mark.line, mark.column, show_path(path), wrong, expected)
        return RefusedError([*self.problems, problem])

    def build(self, events: Iterator[Any]) -> Document:
        data: Any = None
        documents = 0
        for event in events:
            kind = type(event).__name__
            if kind == "DocumentStartEvent":
                documents += 1
                if documents > 1:
                    raise self.stop(event, (), "a second document starts here", "expected one document in a file")
                data = self.value(next(events), events, ())
        if data is None:
            raise RefusedError(
                [Problem(self.file, 1, 1, "the file", "is empty", "expected fields such as 'piece: Small table'")]
            )
        if not isinstance(data, dict):
            wrong = f"holds {'a list' if isinstance(data, list) else 'a single value'} at the top"
            raise RefusedError(
                [
                    *self.problems,
                    Problem(self.file, 1, 1, "the file", wrong, "expected fields such as 'piece: Small table'"),
                ]
            )
        if self.problems:
            raise RefusedError(self.problems)
        return Document(self.file, data, self.values, self.keys)

    def value(self, event: Any, events: Iterator[Any], path: Where) -> Any:
        self.count += 1
        if self.count > MAX_VALUES:
            raise self.stop(event, (), f"holds more than {MAX_VALUES:,} values", "expected a file written by hand")
        if len(path) > MAX_DEPTH:
            raise self.stop(event, (), f"is nested more than {MAX_DEPTH} deep", "expected a file written by hand")
        self.values[path] = _mark(event)
        kind = type(event).__name__
        if kind == "AliasEvent" or getattr(event, "anchor", None):
            raise self.stop(
                event, path, "uses a YAML anchor or alias (& or *)", "write the value out, or put it in quotes"
            )
        if getattr(event, "tag", None):
            tag = str(event.tag)[:40]
            raise self.stop(event, path, f"uses the YAML tag {tag}", "write the plain value, or put it in quotes")
        if kind == "SequenceStartEvent":
            return self.sequence(events, path)
        if kind == "MappingStartEvent":
            return self.mapping(events, path)
        return _scalar(event)

    def sequence(self, events: Iterator[Any], path: Where) -> list[Any]:
        items: list[Any] = []
        while type(event := next(events)).__name__ != "SequenceEndEvent":
            items.append(self.value(event, events, (*path, len(items))))
        return items

    def mapping(self, events: Iterator[Any], path: Where) -> dict[str, Any]:
        fields: dict[str, Any] = {}
        before: list[Any] = []
        while type(event := next(events)).__name__ != "MappingEndEvent":
            if type(event).__name__ != "ScalarEvent":
                raise self.stop(event, path, "a field name is a list or a group", "expected a word, then a colon")
            name = str(event.value)
            here = (*path, name)
            if name in fields:
                first = self.keys[here].line
                mark = _mark(event)
                wrong = f"field {shown(name)} is given twice, first in line {first}"
                self.problems.append(
                    Problem(self.file, mark.line, mark.column, show_path(here), wrong, "keep one of them")
                )
            else:
                self.keys[here] = _mark(event)
            self.count += 1
            value = next(events)
            fields[name] = self.value(value, events, here)
            fault = None if event.style else fault_of_key(name, fields[name], before)
            before = [fields[name]]
            if fault is not None:
                mark = _mark(event)
                self.problems.append(Problem(self.file, mark.line, mark.column, show_path(here), *fault))
            if self.values[here].line > self.keys[here].line:
                # A group, a list or nothing at all: what is wrong with the whole is best shown at its name.
                self.values[here] = self.keys[here]
        return fields


def _mark(event: Any) -> Mark:
    start = event.start_mark
    return Mark(start.line + 1, start.column + 1)


def _scalar(event: Any) -> Any:
    """Return a scalar by the core schema of YAML 1.2; dates stay text, and a number knows how it was written."""
    text = str(event.value)
    if event.style is not None and event.style != "":
        return text
    if text in _WORDS:
        word = _WORDS[text]
        return number_as_written(word, text) if isinstance(word, float) else word
    if text[0] not in _IN_FRONT:
        return text
    if _INTEGER.fullmatch(text):
        return number_as_written(int(text), text)
    if _FLOAT.fullmatch(text):
        return number_as_written(float(text), text)
    return text
