"""Steps beside the coats as work: what is done to what, how long it takes, and what it uses up."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from finplan.catalogue import Catalogue, ExtraStep
from finplan.inputs import Piece
from finplan.quantity import NOTHING, Range
from finplan.system.ids import whole_piece_id
from finplan.system.treatment import Treatment, TreatmentStep

WHOLE_PIECE = "whole piece"
"""The item of what is done to all of a piece at once."""
_WHOLE = 1e-9


@dataclass(frozen=True, slots=True)
class ExtraWork:
    """A step beside the coats on one item, or on the whole piece."""

    id: str
    name: str
    """Its name in the catalogue's extra-steps."""
    record: ExtraStep
    item: str
    area_m2: float
    """Of the faces that get it. [m²]"""
    pieces: int
    """How many things are picked up and set down."""
    count: int
    """How many of what is counted there are; as many as are picked up where the file says no number."""

    @property
    def hours(self) -> Range:
        """How long it takes: its area at its speed, picking things up, and what is counted. [h]"""
        record = self.record
        total = (record.handling_h or NOTHING).scaled(self.pieces)
        total = total.plus((record.each_h or NOTHING).scaled(self.count))
        return total if record.speed_m2_h is None else total.plus(Range.time_for(self.area_m2, record.speed_m2_h))

    @property
    def consumables(self) -> Mapping[str, Range]:
        """How many pieces of which consumables it uses up: by its area, and by what is counted."""
        needs: dict[str, Range] = {}
        for named, scale in ((self.record.uses, self.area_m2), (self.record.uses_each, float(self.count))):
            for name, used in named.items():
                needs[name] = needs.get(name, NOTHING).plus(used.scaled(scale))
        return needs


def item_work(treatment: Treatment, step: TreatmentStep, catalogue: Catalogue) -> ExtraWork:
    """Return a step beside the coats of an item as work."""
    name = step.recipe.extra or ""
    pieces = treatment.pieces
    count = step.count or pieces
    return ExtraWork(step.id, name, catalogue.extra_steps[name], treatment.item, step.area_m2, pieces, count)


def portions_of(step: TreatmentStep, catalogue: Catalogue) -> int:
    """Return in how many portions, each as large as the others, a step of an item is done; 1 for all at once."""
    portion_m2 = None if step.recipe.extra is None else catalogue.extra_steps[step.recipe.extra].portion_m2
    return 1 if portion_m2 is None else max(1, math.ceil(step.area_m2 / portion_m2 - _WHOLE))


def whole_piece_item(number: int) -> str:
    """Return what the item is called of what is done to all of a piece; *number* is its own in a set, or 0."""
    return f"{WHOLE_PIECE} {number}" if number else WHOLE_PIECE


def whole_piece_work(piece: Piece, treatments: Sequence[Treatment], catalogue: Catalogue) -> list[ExtraWork]:
    """Return the steps beside the coats that are done to a whole piece at last, in the order of its file.

    Parameters
    ----------
    piece, treatments
        The piece, and what its items get; of a set those of one number
    catalogue
        Where the steps are
    """
    first = treatments[0]
    item = whole_piece_item(first.number)
    all_m2 = sum(treatment.area_m2 for treatment in treatments)
    inside_m2 = sum(group.inside_m2 for treatment in treatments for group in treatment.groups)
    works: dict[str, ExtraWork] = {}
    for asked in piece.after:
        for name in (asked.name, *catalogue.extra_steps[asked.name].then):
            record = catalogue.extra_steps[name]
            if record.when == "together" and name not in works:
                work_id = whole_piece_id(first.key, name, first.number)
                area_m2 = all_m2 - inside_m2 if record.outside_only else all_m2
                works[name] = ExtraWork(work_id, name, record, item, area_m2, 1, asked.count or 1)
    return list(works.values())


def all_extra_work(piece: Piece, treatments: Sequence[Treatment], catalogue: Catalogue) -> Iterator[ExtraWork]:
    """Give every step beside the coats of a piece, of a set those of all its pieces."""
    for _, of_one in groupby(treatments, key=lambda treatment: treatment.number):
        listed = list(of_one)
        for treatment in listed:
            yield from (item_work(treatment, step, catalogue) for step in treatment.steps if step.recipe.extra)
        yield from whole_piece_work(piece, listed, catalogue)
