"""Which rows of the timetable belong to which step, and under what name their item stands on the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from finplan.inputs import OF_PIECE
from finplan.listing import counted, listed
from finplan.planning import Plan, PlannedPiece
from finplan.system import FaceGroup, Treatment, TreatmentStep
from finplan.telling.sets import OfItem, set_name
from finplan.timetable import TimetableStep

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def mark_of(piece: PlannedPiece, plan: Plan) -> str:
    """Return the letter that stands for a piece on the sheet of several, of very many its number; empty for one."""
    if len(plan.pieces) == 1:
        return ""
    number = plan.pieces.index(piece)
    return _LETTERS[number] if len(plan.pieces) <= len(_LETTERS) else str(number + 1)


def marked_name(name: str, piece: PlannedPiece, plan: Plan) -> str:
    """Return the name of an item with the mark of its piece before it."""
    mark = mark_of(piece, plan)
    return f"{mark}\u00a0{name}" if mark else name


def treatment_name(treatment: Treatment, plan: Plan, counts: Mapping[str, int] | None = None) -> str:
    """Return the item; where it gets several treatments, with the faces that get this one behind.

    Parameters
    ----------
    treatment
        One of the plan's
    plan
        The plan
    counts
        How many there are of each part, where that is to be said
    """

    def part_name(part: str) -> str:
        return counted(part, counts[part]) if counts else part

    alone = treatment.loose
    name = part_name(treatment.item) if alone and not treatment.number else treatment.item
    of_item = [alike for alike in plan.piece_of(treatment).treatments if alike.item == treatment.item]
    if len(of_item) == 1:
        return name
    all_faces = _faces(group for alike in of_item for group in alike.groups)
    told = []
    for part, faces in _faces(treatment.groups).items():
        if alone:
            told.append(listed(faces))
        elif len(faces) == len(all_faces[part]):
            told.append(part_name(part))
        else:
            told.append(f"{part_name(part)}: {listed(faces)}")
    return f"{name} ({'; '.join(told)})"


def one_name(treatment: Treatment, plan: Plan) -> str:
    """Return the name of one thing that gets a treatment, such as one of four legs, without its number among them."""
    name = treatment_name(treatment, plan)
    if treatment.number and treatment.pieces > 1:
        return name.replace(treatment.item, f"{treatment.named}{OF_PIECE} {treatment.number}", 1)
    return name


def places(groups: Iterable[FaceGroup]) -> str:
    """Return where something is done: every part with its faces, such as 'seat: top and edge; leg: sides'."""
    faces_of: dict[str, list[str]] = {}
    for group in groups:
        faces_of.setdefault(group.part, []).extend([group.faces_told] if group.board else group.faces)
    return "; ".join(f"{part}: {listed(faces)}" for part, faces in faces_of.items())


def _faces(groups: Iterable[FaceGroup]) -> dict[str, list[str]]:
    faces_of: dict[str, list[str]] = {}
    for group in groups:
        faces_of.setdefault(group.part, []).extend(group.faces)
    return faces_of


class Names:
    """Under what name the item of a step or of a row stands on the sheet, marked where there are several pieces."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._pieces = {step.id: plan.piece_of(treatment) for treatment in plan.treatments for step in treatment.steps}
        self._by_step = {
            step.id: treatment_name(treatment, plan) for treatment in plan.treatments for step in treatment.steps
        }
        self._several = {(treatment.key, treatment.item) for treatment in plan.treatments if treatment.of_several}

    def of_treatment(self, treatment: Treatment, counts: Mapping[str, int] | None = None) -> str:
        """Return the name of what gets a treatment; as ``treatment_name``."""
        return marked_name(treatment_name(treatment, self._plan, counts), self._plan.piece_of(treatment), self._plan)

    def of_step(self, step: TreatmentStep) -> str:
        """Return the name at a step, marked."""
        return marked_name(self._by_step[step.id], self._pieces[step.id], self._plan)

    def of_go(self, go: Sequence[TimetableStep]) -> str:
        """Return the name of what gets the same in one go, without its piece: as ``alone``, of a set of all of them."""
        return self.alone(go[0]).replace(go[0].item, set_name(go, several=self.of_several(go[0])), 1)

    def of_row(self, row: TimetableStep) -> str:
        """Return the name at a row of the timetable, marked as on the sheet."""
        return marked_name(self.alone(row), self._plan.piece_of(row), self._plan)

    def of_item(self, row: TimetableStep) -> OfItem[None]:
        """Return the same as something that may be told together with others of its set."""
        return OfItem(self.of_row(row), row.item, row.set_number, None, self.of_several(row))

    def of_several(self, row: TimetableStep) -> bool:
        """Return whether what a row is done to is several alike parts of one piece of a set."""
        return (row.key, row.item) in self._several

    def alone(self, row: TimetableStep) -> str:
        """Return the name at a row without its piece; a row that belongs to no step has its own item's."""
        return self._by_step.get(row.of_step or "") or row.item
