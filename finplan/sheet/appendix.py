"""The appendix: areas, what was assumed and reckoned, why the cautions hold, and what it all rests on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from markupsafe import Markup

from finplan.climate import STANDARD
from finplan.listing import counted
from finplan.planning import RESTS, Plan, PlannedPiece, used_sources
from finplan.quantity import Range, Units
from finplan.sheet.cautions import CautionGroup, caution_groups
from finplan.sheet.conditions import Condition, conditions
from finplan.sheet.safety_page import SafetyPage, safety_page
from finplan.sheet.sanding_cards import sanding_cards
from finplan.showing import plain, show_area, show_temperature, show_volume
from finplan.spans import show_range
from finplan.surface import PartSurface
from finplan.telling import cause_words, label_times_words, marked_name, next_coat_here_words, short_title, source_title
from finplan.timetable import steps_by_row


@dataclass(frozen=True, slots=True)
class FaceRow:
    """One face of one part."""

    face: str
    exposure: str
    area: str
    end_grain: str


@dataclass(frozen=True, slots=True)
class PartAreas:
    """The faces of one part, with its totals."""

    part: str
    faces: tuple[FaceRow, ...]
    all_faces: str
    finished: str
    """Of one, and of all of them."""


@dataclass(frozen=True, slots=True)
class PartDrawing:
    """The drawing of one part."""

    part: str
    drawing: Markup


@dataclass(frozen=True, slots=True)
class PieceAreas:
    """The parts of one piece, with its totals."""

    piece: str
    """With its mark, where there are several."""
    parts: tuple[PartAreas, ...]
    alike: int
    """How many such pieces there are."""
    all_faces: str
    """Of one of them, as ``finished``."""
    finished: str
    set_faces: str
    set_finished: str
    drawings: tuple[PartDrawing, ...]
    """Of the parts that no sanding card shows."""


@dataclass(frozen=True, slots=True)
class DryingRow:
    """One finish: its times in the air of its label, and what this plan counts with."""

    finish: str
    label: str
    here: str


@dataclass(frozen=True, slots=True)
class LossRow:
    """What one way of putting a finish on loses."""

    method: str
    share: str
    each_coat: str
    lands: str


@dataclass(frozen=True, slots=True)
class UncertainRow:
    """What makes the amount of a finish uncertain, by share."""

    finish: str
    causes: str


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One source."""

    title: str
    rests: str


@dataclass(frozen=True, slots=True)
class Appendix:
    """All of the appendix."""

    pieces: tuple[PieceAreas, ...]
    conditions: tuple[Condition, ...]
    label_air: str
    """The air for which the catalogue gives its times."""
    drying: tuple[DryingRow, ...]
    losses: tuple[LossRow, ...]
    uncertain: tuple[UncertainRow, ...]
    cautions: tuple[CautionGroup, ...]
    """With why, and on whose word."""
    safety: SafetyPage
    warnings: tuple[str, ...]
    sources: tuple[SourceRow, ...]


def appendix(plan: Plan) -> Appendix:
    """Return the appendix of a plan."""
    units = plan.units
    return Appendix(
        pieces=tuple(_piece(piece, plan) for piece in plan.pieces),
        conditions=conditions(plan),
        label_air=f"{show_temperature(STANDARD.temperature_c, units)} and {plain(STANDARD.humidity_pct)} % humidity",
        drying=_drying(plan),
        losses=_losses(plan),
        uncertain=tuple(
            UncertainRow(short_title(need.supply.title), causes)
            for need in plan.materials.materials
            if (causes := cause_words(need.supply))
        ),
        cautions=caution_groups(plan),
        safety=safety_page(plan),
        warnings=tuple(
            marked_name(f"{warning.where}: {warning.wrong}; {warning.expected}", piece, plan)
            for piece in plan.pieces
            for warning in piece.source.warnings
        ),
        sources=tuple(
            SourceRow(source_title(plan, key), RESTS[plan.catalogue.sources[key].rests]) for key in used_sources(plan)
        ),
    )


def _piece(piece: PlannedPiece, plan: Plan) -> PieceAreas:
    return PieceAreas(
        piece=marked_name(piece.name, piece, plan),
        parts=_parts(piece, plan.units),
        alike=piece.surface.alike,
        all_faces=show_area(piece.surface.area_m2, plan.units),
        finished=show_area(piece.surface.finished_m2, plan.units),
        set_faces=show_area(piece.surface.alike * piece.surface.area_m2, plan.units),
        set_finished=show_area(piece.surface.alike * piece.surface.finished_m2, plan.units),
        drawings=_drawings(piece, plan.units),
    )


def _drawings(piece: PlannedPiece, units: Units) -> tuple[PartDrawing, ...]:
    shown = {name for card in sanding_cards(piece, units) for name in card.drawn_parts}
    return tuple(
        PartDrawing(counted(part.part, part.count), Markup(piece.drawings[part.part]))  # noqa: S704 - made by us
        for part in piece.surface.parts
        if part.part not in shown
    )


def _parts(piece: PlannedPiece, units: Units) -> tuple[PartAreas, ...]:
    return tuple(
        PartAreas(
            part=counted(part.part, part.count),
            faces=tuple(
                FaceRow(face.face, face.exposure, show_area(face.area_m2, units), f"{face.end_grain * 100:.0f} %")
                for face in part.faces
            ),
            all_faces=show_area(part.area_m2, units),
            finished=_finished(part, units),
        )
        for part in piece.surface.parts
    )


def _finished(part: PartSurface, units: Units) -> str:
    each = show_area(part.finished_m2, units)
    return each if part.count == 1 else f"{each} each, {show_area(part.count * part.finished_m2, units)} in all"


def _drying(plan: Plan) -> tuple[DryingRow, ...]:
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    hours: dict[str, list[float]] = {need.material: [] for need in plan.materials.materials}
    for row in plan.timetable.steps:
        if row.kind == "drying" and (dries := steps[row.id][1].finish) is not None:
            hours[dries].append(((row.next_from or row.end) - row.start) / timedelta(hours=1))
    rows = []
    for name, of_finish in hours.items():
        finish = plan.catalogue.finishes[name]
        rows.append(DryingRow(finish.title, label_times_words(finish), next_coat_here_words(of_finish)))
    return tuple(rows)


def _losses(plan: Plan) -> tuple[LossRow, ...]:
    def percent(value: float) -> str:
        return f"{plain(value)} %"

    units = plan.units
    names = {step.method: None for treatment in plan.treatments for step in treatment.steps if step.method}
    rows = []
    for name in names:
        method = plan.catalogue.methods[name]
        whole = Range(100.0, 100.0, 100.0)
        rows.append(
            LossRow(
                method=method.title,
                share=show_range(method.loss_pct, percent),
                each_coat=show_range(method.fixed_loss_ml, lambda value: show_volume(value, units)),
                lands=show_range(method.transfer_pct or whole, percent),
            )
        )
    return tuple(rows)
