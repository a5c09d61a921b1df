"""How long it takes to put one coat on an item, without setting up, waiting and cleaning up."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.catalogue import ApplicationMethod
from finplan.quantity import Range
from finplan.system.treatment import FaceGroup, Treatment, TreatmentStep


def putting_on_hours(
    treatment: Treatment,
    step: TreatmentStep,
    method: ApplicationMethod,
    groups: Sequence[FaceGroup] | None = None,
) -> Range:
    """Return how long a coat is being put on: the time in which a mix has to be used. [h]

    Parameters
    ----------
    treatment
        The item with all that it gets
    step
        The coat
    method
        How it is put on
    groups
        The faces that are coated; None for all of the step's

    Notes
    -----
    ``area / speed``, flat faces and others each at their own, and picking up and turning for every part.
    """
    spreading = (
        Range.time_for(group.area_m2, method.flat_m2_h if group.kind == "flat" else method.profile_m2_h)
        for group in (step.groups if groups is None else groups)
    )
    return method.handling_h.scaled(treatment.pieces).plus(Range.total(spreading))
