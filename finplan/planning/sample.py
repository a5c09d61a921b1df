"""The sample board of a piece: a piece of its own, of the same timber, grades and coats, ready to be approved."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from finplan.inputs import AskedStep, Piece
from finplan.inputs.shapes import SHAPES, Part
from finplan.planning.piece import PlannedPiece
from finplan.problems import RefusedError
from finplan.surface import piece_surface
from finplan.system import FaceGroup, piece_key, sample_called, whole_piece_id

APPROVED = "approved"
"""The step with which it is shown and signed: a name in the catalogue's extra-steps."""
_FACE = "front"
"""The face of it that is finished: a wide flat one."""


def approved_id(piece: PlannedPiece) -> str:
    """Return the id of the step in which the sample of a piece is approved."""
    return whole_piece_id(piece_key(sample_called(piece.called)), APPROVED, 0)


def with_samples(pieces: Iterable[PlannedPiece]) -> tuple[PlannedPiece, ...]:
    """Return pieces, behind them the sample boards that wait for approval, each as a piece of its own."""
    listed = tuple(pieces)
    return (*listed, *(board for piece in listed if (board := _board(piece)) is not None))


def _board(piece: PlannedPiece) -> PlannedPiece | None:
    source = piece.source
    sample = source.piece.sample
    boards = {} if sample is None or sample.approved else _boards(piece)
    if sample is None or not boards:
        return None
    made = Piece(
        name=f"{piece.name}, sample",
        customer=source.piece.customer,
        units=source.piece.units,
        timber=source.piece.timber,
        system=source.piece.system,
        deliver=sample.by,
        parts=boards,
        after=(AskedStep(APPROVED),),
        accepted=source.piece.accepted,
    )
    file = replace(source.piece_file, piece=made, problems=())
    own = replace(source, piece_file=file, surface=piece_surface(made))
    called = sample_called(piece.called)
    return replace(piece, source=own, name=made.name, called=called, sample=True)


def _boards(piece: PlannedPiece) -> dict[str, Part]:
    """Return a board for each system of a piece, like the faces that show most of it; none where it is refused."""
    try:
        unrolled = piece.unrolled
    except RefusedError:
        return {}
    largest: dict[str, tuple[float, FaceGroup]] = {}
    for treatment in unrolled:
        for group in treatment.groups:
            wide = group.area_m2 * (1.0 if group.exposure == "show" and group.kind == "flat" else 1e-3)
            if wide > largest.get(treatment.system, (0.0, group))[0]:
                largest[treatment.system] = (wide, group)
    several = len(largest) > 1
    return {
        f"board-{system}" if several else "board": _like(group, system, piece) for system, (_, group) in largest.items()
    }


def _like(group: FaceGroup, system: str, planned: PlannedPiece) -> Part:
    """Return a board of the timber, the surface and the grades of faces, and the steps that they get beside coats."""
    piece, catalogue = planned.source.piece, planned.source.catalogue
    lists = (piece.parts[group.part].before, _of_assembly(piece, group.part), piece.before)
    said = next(steps for steps in lists if steps is not None)
    area_m2 = catalogue.allowances["sample-board"].area_m2.typical
    board = SHAPES["measured"].model_validate(
        {
            "shape": "measured",
            "faces": {_FACE: f"{area_m2} m2"},
            "timber": group.timber,
            "system": system,
        },
        context={"lengths": None},
    )
    wanted = tuple(step for step in said if catalogue.extra_steps[step.name].steps)
    surface = None if piece.refinished else group.surface
    more = {
        "veneer_mm": group.veneer_mm or 0.0,
        "before": wanted,
        "surface": surface,
        "start_grit": group.start_grit,
        "stop_grit": group.stop_grit,
    }
    return board.model_copy(update=more)


def _of_assembly(piece: Piece, part: str) -> tuple[AskedStep, ...] | None:
    return next((assembly.before for assembly in piece.assemblies.values() if part in assembly.parts), None)
