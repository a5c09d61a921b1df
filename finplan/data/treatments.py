"""What each item of a piece gets."""

from __future__ import annotations

from finplan.catalogue import StepDeed
from finplan.data.row import CountFromOne, NotNegative, row, row_of, rows_of
from finplan.system import Treatment, TreatmentStep


@row
class StepFacesRow:
    """Faces of a step."""

    part: str
    """The part."""
    faces: tuple[str, ...]
    """Its faces that are treated alike."""


@row
class StepRow:
    """Step of a treatment."""

    id: str
    """Known by it everywhere in the document."""
    do: StepDeed
    """What is done."""
    label: str
    """As it stands on the sheet."""
    coat: CountFromOne | None
    """The number of the coat; null where it is none."""
    finish: str | None
    """What is put on, a name in the catalogue."""
    method: str | None
    """How it is put on, a name in the catalogue."""
    grit: str | None
    """With which it is abraded or rubbed out."""
    area_m2: NotNegative
    """Of the faces that get it, of all parts. [m²]"""
    faces: tuple[StepFacesRow, ...]
    """Which faces get it."""
    extra: str | None = None
    """Which step beside the coats it is, a name in the catalogue's extra-steps; left out where it is none."""
    count: CountFromOne | None = None
    """Of such a step, how many the file says: dents, hinges; left out where it says no number."""


@row
class TreatmentRow:
    """Treatment."""

    item: str
    """An assembly, or a part in none: what is coated as one."""
    parts: tuple[str, ...]
    """The parts of it."""
    system: str
    """The coating system, a name in the catalogue."""
    area_m2: NotNegative
    """That gets it, of all its parts. [m²]"""
    steps: tuple[StepRow, ...]
    """What is done, in order."""
    of_set: CountFromOne | None = None
    """Which of a set of alike pieces it is of, counted from 1; left out where the piece is none."""


def treatment_data(treatment: Treatment) -> TreatmentRow:
    """Return what an item gets, step by step; areas in m²."""
    return row_of(TreatmentRow, treatment, steps=tuple(map(_step, treatment.steps)))


def _step(step: TreatmentStep) -> StepRow:
    return row_of(
        StepRow, step, grit=step.recipe.grit, extra=step.recipe.extra, faces=rows_of(StepFacesRow, step.groups)
    )
