"""Faces that are too large to be kept wet at once: into how many parts they are divided, or who helps."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from finplan.climate import Measured, Weather, air_table, kept_wet, open_time
from finplan.inputs import Shop
from finplan.planning.piece import PlannedPiece
from finplan.quantity import Range
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import Timetable, TimetableStep, steps_by_row

_WHOLE = 1e-6
_LEGS = ("square-leg", "turned", "rod")


@dataclass(frozen=True, slots=True)
class WetEdge:
    """The largest face of a coat that is looked at, beside what can be kept wet of it."""

    row: str
    """The id of the row of the timetable."""
    of_step: str
    side: str
    part: str
    face: str
    area_m2: float
    """Of that face."""
    asks_m2: float
    """How much of it is wet at once: all of what is wiped off, else one strip over its whole length."""
    temperature_c: float
    """Of the air in which it is put on."""
    open_h: float
    """How long it can be worked there: until it is wiped off, as usual, or while its edge is wet, at the least."""
    wiped: bool
    """Whether it is wiped off."""
    keeps_m2: Range
    """How much a person keeps wet."""
    plans_m2: float
    """How much is planned for a person: at the usual speed, for so long."""
    alone: int
    """Into how many parts one person divides it; 1 where it is kept wet as a whole."""
    helper: str | None
    """Who else is in the shop then, can coat and does nothing else; None where nobody does, or nobody is needed, and of
    what holds isocyanate, beside which nobody else may be in the room."""
    together: int
    """Into how many parts both divide it."""


def wet_edges(
    pieces: Sequence[PlannedPiece], timetable: Timetable, measured: Sequence[Measured] = ()
) -> tuple[WetEdge, ...]:
    """Return what can be kept wet of every coat that is wiped on or brushed over flat faces.

    Parameters
    ----------
    pieces, timetable
        All of them, and who coats them when
    measured
        The air as it was measured, where that is another than the shop file says

    Notes
    -----
    One person keeps ``speed · open time`` wet. Two put on twice as much in that time. What is wiped off has to be so
    all over its face; of what flows together one strip along the grain has to be wet until the next joins it.
    """
    by_key = {piece.key: piece for piece in pieces}
    treatments = [treatment for piece in pieces for treatment in piece.treatments]
    steps = steps_by_row(timetable.steps, treatments)
    rows = [row for row in timetable.steps if row.kind == "attended"]
    edges: dict[str, WetEdge] = {}
    for row in rows:
        if row.deed == "coat" and row.id in steps and row.id not in edges:
            for edge in _of_coat(row, *steps[row.id], by_key[row.key], rows, measured):
                edges[row.id] = edge
    return tuple(edges.values())


def _of_coat(
    row: TimetableStep,
    treatment: Treatment,
    step: TreatmentStep,
    piece: PlannedPiece,
    rows: Sequence[TimetableStep],
    measured: Sequence[Measured],
) -> Iterator[WetEdge]:
    source = piece.source
    catalogue, shop = source.catalogue, source.shop
    finish, method = catalogue.finishes[step.finish or ""], catalogue.methods[step.method or ""]
    air = air_table(Weather(shop.climate, shop.time_zone), row.start, 1, measured).at(0.0)
    open_h = open_time(finish, catalogue, air)
    speed = method.flat_m2_h
    largest = max(_seen_faces(step, piece), key=lambda face: round(face[0], 6), default=None)
    if open_h is None or speed is None or method.transfer_pct is not None or largest is None:
        return
    area_m2, part, face = largest
    asks_m2 = area_m2
    if finish.wet_edge_h is not None:
        if method.strip_mm is None:
            return
        asks_m2 = min(area_m2, _longest_mm(part, area_m2, piece) * method.strip_mm / 1e6)
    hours = open_h.low if finish.wet_edge_h is not None else open_h.typical
    plans_m2 = speed.typical * hours
    alone, together = (max(1, math.ceil(asks_m2 / (hands * plans_m2) - _WHOLE)) for hands in (1, 2))
    yield WetEdge(
        row=row.id,
        of_step=step.id,
        side=row.side,
        part=part,
        face=face,
        area_m2=area_m2,
        asks_m2=asks_m2,
        temperature_c=air.temperature_c,
        open_h=hours,
        wiped=finish.wet_edge_h is None,
        keeps_m2=kept_wet(open_h, speed),
        plans_m2=plans_m2,
        alone=alone,
        helper=None if alone == 1 or finish.hazards.isocyanate else _helper(row, rows, shop),
        together=together,
    )


def _seen_faces(step: TreatmentStep, piece: PlannedPiece) -> Iterator[tuple[float, str, str]]:
    """Give the flat faces that a step coats and that are looked at: how large each is, and what it is called. [m²]

    A lap is seen there; nobody divides an underside, or the inside of a case, into lengths for its looks. The four
    narrow sides of a leg are coated one by one.
    """
    wanted = {(group.part, face) for group in step.groups if group.kind == "flat" for face in group.faces}
    for part in piece.surface.parts:
        if part.shape in _LEGS:
            continue
        for face in part.faces:
            if face.exposure == "show" and (part.part, face.face) in wanted:
                yield face.area_m2, part.part, face.face


def _longest_mm(part: str, area_m2: float, piece: PlannedPiece) -> float:
    """Return how long the strips of a face are: as its part, or where that names no length as a square. [mm]"""
    shape = piece.source.piece.parts[part]
    lengths = (getattr(shape, name, None) for name in ("length_mm", "height_mm", "width_mm", "diameter_mm"))
    known = [float(length) for length in lengths if isinstance(length, int | float)]
    return max(known) if known else math.sqrt(area_m2) * 1000


def _helper(row: TimetableStep, rows: Sequence[TimetableStep], shop: Shop) -> str | None:
    """Return who is in the shop all through a coat, can coat, and has nothing else to do then."""
    busy = {step.person for step in rows if step.start < row.end and row.start < step.end}
    start, end = (moment.astimezone(shop.time_zone) for moment in (row.start, row.end))
    from_min, until_min = start.hour * 60 + start.minute, end.hour * 60 + end.minute
    for person in shop.people:
        if person.name in busy or "coating" not in person.skills:
            continue
        shifts = shop.shifts(person, start.date())
        if any(shift.start_min <= from_min and until_min <= shift.end_min for shift in shifts):
            return person.name
    return None
