"""The constraint solver, loaded without what it takes a third of a second to load and we never ask it for."""

from __future__ import annotations

from finplan.stand_in import standing_in

# It loads pandas for methods that take whole series of variables, of which it names two classes in its annotations.
with standing_in("pandas", Index=object, Series=object):
    from ortools.sat.python import cp_model

__all__ = ["cp_model"]
