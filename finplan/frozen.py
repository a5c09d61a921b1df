"""Frozen dataclasses as the standard library's, without the time that it takes to make their methods.

It writes six methods of each class as text and compiles them one by one (so does Python 3.11; later ones compile those
of a class together): of a sheet, which loads some 450 such classes, an eighth of all time. Here the classes share what
is alike, and ``__init__``, which is not, is compiled when the first of a kind is made; half of the kinds that a command
loads are never made in it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # to whoever reads types it is the standard library's
    from dataclasses import dataclass as dataclass
else:

    def dataclass(*, frozen: bool, slots: bool = False, kw_only: bool = False) -> Callable[[type], type]:
        """Return the decorator that makes of a class what the standard library's makes of it.

        ``inspect.signature`` alone does not know the fields before one has been made. What inherits from such a class
        is made here too.

        Raises
        ------
        TypeError
            The class is not to be frozen.

        Examples
        --------
        >>> @dataclass(frozen=True, slots=True)
        ... class Board:
        ...     thick_mm: float
        ...     name: str = "board"
        >>> Board(20.0)
        Board(thick_mm=20.0, name='board')
        >>> Board(20.0) == Board(20.0, "board")
        True
        """

        def made(kind: type) -> type:
            if not frozen:
                msg = f"{kind.__qualname__} changes: it wants the dataclass of the standard library"
                raise TypeError(msg)
            kind.__doc__ = kind.__doc__ or kind.__name__  # or it would look for a signature
            of_fields = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)
            return _with_methods(of_fields(kind))

        return made


def _with_methods(kind: Any) -> type:
    """Give a class whose fields are known the methods of a frozen dataclass, but those that it has itself."""
    compared = _values_of([field.name for field in dataclasses.fields(kind) if field.compare])

    def made(self: Any, *given: Any, **named: Any) -> None:
        kind.__init__ = _init(kind)
        kind.__init__(self, *given, **named)

    def equal(self: Any, other: Any) -> Any:
        return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

    methods = {
        "__init__": made,
        "__repr__": _shown,
        "__eq__": equal,
        "__hash__": lambda self: hash(compared(self)),
        "__setattr__": _not_set,
        "__delattr__": _not_deleted,
        "__getstate__": _state,
        "__setstate__": _set_state,
    }
    for name, method in methods.items():
        if name not in vars(kind):
            setattr(kind, name, method)
    return kind  # type: ignore[no-any-return]


def _values_of(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    """Return what takes the values of *names* of an object as a tuple, however few they are."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda one: tuple(getattr(one, name) for name in names)


def _init(kind: Any) -> Callable[..., None]:
    """Return the ``__init__`` of a dataclass, compiled."""
    known: dict[str, Any] = {"_put": object.__setattr__, "_lacking": object()}
    in_order = ["self"]
    by_name: list[str] = []
    lines: list[str] = []
    for field in dataclasses.fields(kind):
        name = value = asked = field.name
        if field.default is not dataclasses.MISSING:
            known[f"_of_{name}"] = field.default
            asked = f"{name}=_of_{name}"
        elif field.default_factory is not dataclasses.MISSING:
            known[f"_of_{name}"] = field.default_factory
            asked, value = f"{name}=_lacking", f"_of_{name}() if {name} is _lacking else {name}"
        (by_name if field.kw_only else in_order).append(asked)
        lines.append(f"_put(self, {name!r}, {value})")
    if hasattr(kind, "__post_init__"):
        lines.append("self.__post_init__()")
    asked = ", ".join([*in_order, *(["*", *by_name] if by_name else [])])
    exec(f"def __init__({asked}):\n  " + "\n  ".join(lines or ["pass"]), known)  # noqa: S102 - of names of fields alone
    init = known["__init__"]
    init.__qualname__ = f"{kind.__qualname__}.__init__"
    return init  # type: ignore[no-any-return]


def _shown(self: Any) -> str:
    shown = (field.name for field in dataclasses.fields(self) if field.repr)
    return f"{type(self).__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in shown)})"


def _not_set(self: Any, name: str, value: object) -> None:
    msg = f"cannot assign to field {name!r}"
    raise dataclasses.FrozenInstanceError(msg)


def _not_deleted(self: Any, name: str) -> None:
    msg = f"cannot delete field {name!r}"
    raise dataclasses.FrozenInstanceError(msg)


def _state(self: Any) -> list[Any]:
    return [getattr(self, field.name) for field in dataclasses.fields(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for field, value in zip(dataclasses.fields(self), state, strict=True):
        object.__setattr__(self, field.name, value)
