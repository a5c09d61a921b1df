"""A library that another one asks for and we have no use of: something stands in for it while that other one loads."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from types import ModuleType


@contextmanager
def standing_in(name: str, **given: object) -> Iterator[None]:
    """Let an empty module that has what is *given* stand for the module *name*, unless that is loaded already.

    Afterwards it is the real one that is loaded for whoever asks, those among them that hold the other.

    Examples
    --------
    >>> with standing_in("antigravity", fly=print):
    ...     import antigravity
    ...     antigravity.fly is print
    True
    >>> "antigravity" in sys.modules
    False
    """
    stand_in = ModuleType(name, __doc__)
    vars(stand_in).update(given)
    sys.modules.setdefault(name, stand_in)
    try:
        yield
    finally:
        if sys.modules.get(name) is stand_in:
            del sys.modules[name]
        for attribute in given:
            delattr(stand_in, attribute)
        stand_in.__getattr__ = lambda asked: getattr(import_module(name), asked)  # type: ignore[method-assign]
