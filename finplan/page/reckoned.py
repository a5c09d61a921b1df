"""What is known of a text at once: its problems, its sound parts, and the figures that need no timetable."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from itertools import groupby
from pathlib import Path
from typing import Any, Literal

from finplan.drawing import part_drawing
from finplan.inputs import Piece, not_accepted
from finplan.ledger import LedgerError
from finplan.listing import listed
from finplan.page.by_record import plan_now
from finplan.place import LEDGER
from finplan.planning import (
    Plan,
    PlannedPiece,
    Workshop,
    cautions_of_piece,
    checked_piece,
    missing_for_plan,
    read_sources,
    said_of,
    together,
    unaccepted,
)
from finplan.problems import FindingsError, Problem, RefusedError
from finplan.quantity import Range, Units
from finplan.reading import Written
from finplan.safety import CautionLine, worst_cautions
from finplan.showing import capital, show_amount, show_area
from finplan.spans import show_work
from finplan.surface import PieceSurface
from finplan.telling import because_words, pack_words, part_work_words, piece_words, sequence_words, short_title


@dataclass(frozen=True, slots=True)
class Figure:
    """One thing that comes of a piece, in the words of the sheet."""

    group: Literal["surface", "buy", "sand", "danger"]
    name: str
    value: str

    @property
    def key(self) -> tuple[str, str]:
        """What tells it from all others of the piece."""
        return self.group, self.name


@dataclass(frozen=True)
class Reckoned:
    """A text, and what is known of it; nothing that takes longer than a keystroke."""

    words: str
    data: Mapping[str, Any]
    problems: tuple[Problem, ...]
    piece: Piece | None
    """Of the parts that are sound; None where the text is not YAML."""
    surface: PieceSurface | None
    planned: PlannedPiece | None
    """None where something is wrong that keeps it from being planned."""
    plan: Plan | None
    units: Units = "metric"
    figures: tuple[Figure, ...] = field(default=())
    cautions: tuple[CautionLine, ...] = ()
    """What is dangerous about it whenever it is done, the worst first; none where it cannot be planned."""
    views: dict[int, tuple[object, Any]] = field(default_factory=dict, compare=False, repr=False)
    """What was said of a timetable of it, with that timetable, by its identity: kept, since making it takes a while."""

    @property
    def sound(self) -> bool:
        """Whether it can be planned."""
        return self.plan is not None

    def at(self, where: str) -> list[Problem]:
        """Return the problems of one field, by its path in words."""
        return [problem for problem in self.problems if problem.where == where]

    @cached_property
    def drawings(self) -> dict[str, str]:
        """The drawing of every part that is sound, with its fields."""
        if self.piece is None or self.surface is None:
            return {}
        return dict(_drawings(self.piece, self.surface, self.units))


def reckon(words: str, file: Path, shop: tuple[Workshop | None, tuple[Problem, ...]], now: datetime) -> Reckoned:
    """Return what is known of a text at once.

    Parameters
    ----------
    words
        The text of a piece file
    file
        What it is called in problems; meshes lie beside it
    shop
        The workshop and its problems
    now
        The earliest moment of work
    """
    workshop, problems = shop
    written = Written(Path(file.name), words, file.parent)
    if workshop is None:
        return Reckoned(words, {}, problems, None, None, None, None)
    try:
        piece_file, surface = checked_piece(written, workshop.catalogue)
    except RefusedError as error:
        return Reckoned(words, {}, error.problems, None, None, None, None)
    piece, document = piece_file.piece, piece_file.document
    units: Units = piece.units or workshop.shop.units
    said = {*piece_file.problems, *(document.problem(finding) for finding in missing_for_plan(piece))}
    surfaces = tuple(_surfaces(surface, units))
    if not piece_file.sound:
        problems = not_accepted(sorted(said), {*piece.accepted, *workshop.shop.accept})
        return Reckoned(words, document.data, problems, piece, surface, None, None, units, surfaces)
    pieces = together(read_sources([written], workshop))  # behind the piece its sample, where one waits for approval
    planned = pieces[0]
    said.update(said_of(planned, now))
    plan = None
    if all(planned_piece.possible for planned_piece in pieces):
        try:
            plan = plan_now(pieces, file, now)
        except LedgerError as error:
            said.add(Problem(file.with_name(LEDGER), 1, 1, "the record", str(error), "expected the workshop's record"))
    planned = planned if plan is None else plan.pieces[0]
    cautions = () if plan is None else cautions_of_piece(planned)
    figures = surfaces if plan is None else (*surfaces, *_buy(plan), *_sand(planned), *_dangers(plan, cautions))
    problems = unaccepted([planned], sorted(said))
    return Reckoned(words, document.data, problems, piece, surface, planned, plan, units, figures, cautions)


def _surfaces(surface: PieceSurface, units: Units) -> Iterator[Figure]:
    if not surface.parts:
        return
    yield Figure(
        "surface",
        "all parts",
        f"{show_area(surface.area_m2, units)}, of which {show_area(surface.finished_m2, units)} get finish",
    )
    for part in surface.parts:
        of_all = f", all {part.count}" if part.count > 1 else ""
        yield Figure("surface", part.part, f"{show_area(part.count * part.area_m2, units)}{of_all}")


def _buy(plan: Plan) -> Iterator[Figure]:
    units = plan.units
    for supply in plan.materials.supplies:
        needed = show_amount(supply.at_confidence, supply.measure, units)
        yield Figure("buy", short_title(supply.title), f"{', '.join(pack_words(supply, units))}; needed {needed}")
    for need in plan.materials.consumables:
        if need.buy:
            name = " ".join(filter(None, [need.grit, short_title(need.title, units)]))
            yield Figure("buy", name, piece_words(need))


def _sand(piece: PlannedPiece) -> Iterator[Figure]:
    sanding = piece.sanding
    for name, together_ in groupby(sanding.groups_of_one, key=lambda sanded: sanded.group.part):
        groups = list(together_)
        words = f"{sequence_words(groups)} {capital(part_work_words(groups, groups[0].group.count))}"
        yield Figure("sand", name, words)
    if sanding.groups:
        hours = Range.total(sanded.hours for sanded in sanding.groups)
        yield Figure("sand", "all parts", show_work(hours))


def _dangers(plan: Plan, cautions: Sequence[CautionLine]) -> Iterator[Figure]:
    for line in worst_cautions(cautions, plan.catalogue):
        yield Figure("danger", line.title, listed(because_words(line)))


def _drawings(piece: Piece, surface: PieceSurface, units: Units) -> Iterator[tuple[str, str]]:
    for measured in surface.parts:
        exposures = {face.face: face.exposure for face in measured.faces}
        glued = {face for face, exposure in exposures.items() if exposure == "covered"}
        part = piece.parts[measured.part]
        try:
            yield measured.part, part_drawing(measured.part, part, units, glued=glued, exposures=exposures)
        except FindingsError:
            continue  # said at the part
