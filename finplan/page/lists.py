"""The lists of a part that can be added to and taken from: elements, grooves, points, patches; and how each begins."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from finplan.page.labels import called_one, field_words
from finplan.page.starting import inches, starting_elements, starting_value
from finplan.page.written import flow_text
from finplan.problems import Where
from finplan.quantity import LENGTH, QuantityError, read_quantity
from finplan.reading import as_written


@dataclass(frozen=True, slots=True)
class ListAddition:
    """What is added with a button."""

    words: str
    value: str
    """As it is written in a file."""


@dataclass(frozen=True, slots=True)
class ListItem:
    """One of a list."""

    words: str
    path: Where
    before: tuple[ListAddition, ...]
    """What can be put in before it."""


@dataclass(frozen=True, slots=True)
class ListShown:
    """A list of a part."""

    words: str
    path: Where
    items: tuple[ListItem, ...]
    add: tuple[ListAddition, ...]
    """What can be added at its end."""


def lists_of(part: Mapping[str, Any], lengths: str | None) -> Iterator[ListShown]:
    """Give every list of a part.

    Parameters
    ----------
    part
        Its fields, as they stand in the file
    lengths
        The unit of the file's bare numbers
    """
    for path, listed in _lists(part, ()):
        items = tuple(
            ListItem(_item_words(path, at, item), (*path, at), tuple(_begun(path, listed, at, lengths)))
            for at, item in enumerate(listed)
        )
        yield ListShown(
            field_words((*path, 0)).rpartition(" ")[0], path, items, tuple(_begun(path, listed, None, lengths))
        )


def _lists(data: Any, path: Where) -> Iterator[tuple[Where, list[Any]]]:
    if isinstance(data, dict):
        for name, value in data.items():
            yield from _lists(value, (*path, str(name)))
    elif isinstance(data, list):
        if path and isinstance(path[-1], str) and path[-1] not in ("corner", "arc"):
            yield path, data
        for at, value in enumerate(data):
            yield from _lists(value, (*path, at))


def _item_words(path: Where, at: int, item: Any) -> str:
    kind = next(iter(item), "") if isinstance(item, dict) and path[-1] == "elements" else ""
    return f"{field_words((*path, at))}{f', {kind}' if kind else ''}"


def _begun(path: Where, items: list[Any], at: int | None, lengths: str | None) -> Iterator[ListAddition]:
    """Give what can be added before an item of a list, or at its end."""
    name = str(path[-1])
    if name == "elements":
        for kind, value in starting_elements(lengths).items():
            yield ListAddition(f"a {kind}", value)
    elif not items:
        yield ListAddition(f"a {called_one(name)}", starting_value(name, lengths) or "1")
    elif at is None:
        closed = name == "points" and "curve" not in path and len(items) > 2 and _pair(items[-1]) is not None
        last = _between(items[-1], items[0], lengths) if closed else items[-1]
        value = _further(items, lengths) if name == "profile" or (name == "points" and not closed) else last
        yield ListAddition(f"a {called_one(name)}", flow_text(value))
    elif at > 0 and not _is_arc(items[at]):
        yield ListAddition(f"a {called_one(name)}", flow_text(_between(items[at - 1], items[at], lengths)))


def _is_arc(item: Any) -> bool:
    return isinstance(item, dict) and "arc" in item


def _pair(item: Any) -> list[Any] | None:
    """Return the two numbers of a point; None where it is none."""
    if isinstance(item, dict):
        item = item.get("corner", item.get("arc"))
    return item if isinstance(item, list) and len(item) == 2 else None


def _between(one: Any, other: Any, lengths: str | None) -> Any:
    """Return what lies half-way between two items; a copy of the second where they are no points or numbers."""
    a, b = _pair(one), _pair(other)
    if a is not None and b is not None:
        return [_reckoned(x, y, lengths, _middle) for x, y in zip(a, b, strict=True)]
    if _is_length(one) and _is_length(other):
        return _reckoned(one, other, lengths, _middle)
    return other


def _further(items: list[Any], lengths: str | None) -> Any:
    """Return a point as far behind the last one as that is behind the one before it."""
    if len(items) < 2 or (a := _pair(items[-2])) is None or (b := _pair(items[-1])) is None:
        return items[-1]
    return [_reckoned(a[0], b[0], lengths, _mirrored), b[1]]


def _is_length(value: Any) -> bool:
    return isinstance(value, str | int | float) and not isinstance(value, bool)


def _middle(one: float, other: float) -> float:
    return (one + other) / 2


def _mirrored(one: float, other: float) -> float:
    return 2 * other - one


def _reckoned(one: Any, other: Any, lengths: str | None, how: Callable[[float, float], float]) -> Any:
    """Return a length that is reckoned of two, as the file writes its own; where they are none, the second."""
    try:
        a, b = (_length_mm(length, lengths) for length in (one, other))
    except QuantityError:
        return other
    middle = round(how(a, b), 2)
    if lengths == "in":
        return inches(middle)
    return f"{middle:g}" if lengths == "mm" else f"{middle:g} mm"


def _length_mm(length: Any, lengths: str | None) -> float:
    """Return a length that may lie behind the zero of its line. [mm]"""
    text = str(as_written(length)).strip()
    size = text.removeprefix("-").strip()
    length_mm = 0.0 if size in ("0", "0.0") else read_quantity(size, LENGTH, bare_unit=lengths)
    return -length_mm if text.startswith("-") else length_mm
