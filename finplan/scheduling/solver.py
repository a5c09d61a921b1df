"""The constraint solver, loaded without what it takes a third of a second to load and we never ask it for."""

from __future__ import annotations

from finplan.stand_in import standing_in

# It loads pandas for methods that take whole series of variables, of which it names two classes in its annotations.
with standing_in("pandas", Index=object, Series=object):
    from ortools.sat.python import cp_model

__all__ = ["SolverModel", "cp_model"]


class SolverModel(cp_model.CpModel):
    """A model without the names that its methods had in older versions.

    They are made anew for every model, which takes longer than some of ours take to solve, and as each holds the model,
    it would stay until garbage is looked for.
    """

    def _add_pre_pep8_methods(self) -> None:
        """Make none."""
