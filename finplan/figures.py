"""What a room has reckoned is looked at once before it is shown: every figure is a number."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

from finplan.problems import NotPossibleError

T = TypeVar("T")


def checked(figures: T, of: str) -> T:
    """Return what a room has reckoned, where all of it is numbers.

    Parameters
    ----------
    figures
        Frozen dataclasses, tables and tuples of them
    of
        What it is, for the error

    Raises
    ------
    NotPossibleError
        A figure is infinite or none: sizes or values are beyond what can be reckoned with.
    """
    if _all_numbers(figures):
        return figures
    for path in _not_numbers(figures, ""):
        msg = (
            f"{of}: {path.strip('.')} comes to no number; look for a size or a value that is far too small or too large"
        )
        raise NotPossibleError(msg)
    return figures


def _all_numbers(figures: Any) -> bool:
    """Return whether every figure is a finite number; nothing is noted of where it stands, which takes longer.

    What stands in several places, as a step does in all that is reckoned of it, is looked at once.
    """
    ahead: list[Any] = [figures]
    seen: set[int] = set()
    while ahead:
        held = ahead.pop()
        kind: Any = type(held)
        if kind in _NO_FIGURES or id(held) in seen:
            continue
        if isinstance(held, float):
            if not math.isfinite(held):
                return False
            continue
        seen.add(id(held))
        ahead += held if kind is tuple or kind is list else _held_by(kind)(held)
    return True


_NO_FIGURES = frozenset({str, int, bool, type(None)})


@cache
def _held_by(kind: type) -> Callable[[Any], Iterable[Any]]:
    """Return what gives all that something of a kind holds: a table, or a dataclass; anything else holds nothing."""
    if issubclass(kind, Mapping):
        return lambda table: table.values()
    names = [field.name for field in fields(kind)] if is_dataclass(kind) else []
    if len(names) > 1:
        return attrgetter(*names)
    return lambda held: [getattr(held, name) for name in names]


def _not_numbers(held: Any, path: str) -> Iterator[str]:
    """Give the places of what is no finite number."""
    if isinstance(held, float):
        if not math.isfinite(held):
            yield path
    elif isinstance(held, Mapping):
        for name, value in held.items():
            yield from _not_numbers(value, f"{path}.{name}")
    elif isinstance(held, (tuple, list)):
        for value in held:
            yield from _not_numbers(value, path)
    elif is_dataclass(held) and not isinstance(held, type):
        for field in fields(held):
            yield from _not_numbers(getattr(held, field.name), f"{path}.{field.name}")
