"""Names of a package that are imported when they are asked for. PEP 562."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from importlib import import_module


def lazily(package: str, names: Mapping[str, Iterable[str]]) -> Callable[[str], object]:
    """Return the ``__getattr__`` of a package whose names live in modules that are slow to import.

    Parameters
    ----------
    package
        Its ``__name__``
    names
        The names that each of its modules gives, by the module's name

    Raises
    ------
    ValueError
        A name is its module's own.

    Examples
    --------
    >>> lazily("finplan", {"problems": ["show_path"]})("show_path")(("parts", "leg"))
    'parts.leg'
    """
    homes = {name: module for module, given in names.items() for name in given}
    if hidden := sorted(homes.keys() & names.keys()):
        msg = f"{package} names {', '.join(hidden)} as its module: once imported, the module hides it"
        raise ValueError(msg)

    def find(name: str) -> object:
        if name not in homes:
            msg = f"module {package!r} has no attribute {name!r}"
            raise AttributeError(msg, name=name, obj=sys.modules[package])
        value = getattr(import_module(f"{package}.{homes[name]}"), name)
        vars(sys.modules[package])[name] = value
        return value

    return find
