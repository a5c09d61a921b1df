"""The order of the rooms: from files to one frozen Plan. Nothing is computed after it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan import __version__
from finplan.climate import Weather, log_findings, moisture_findings
from finplan.drawing import piece_drawings
from finplan.material import DEFAULT_CONFIDENCE, AbrasiveUse, MaterialJob, MaterialPlan, material_plan
from finplan.problems import Problem
from finplan.quantity import Range
from finplan.reading import Calendar
from finplan.safety import Around, CautionLine, Safety, cautions, circumstances, safety_report
from finplan.sanding import SandingPlan
from finplan.source import Source, risks_of, surface_of, treatments_of
from finplan.surface import PieceSurface
from finplan.system import Treatment
from finplan.timetable import Operation, Timetable
from finplan.timing import Wishes, timetable_of, treated


@dataclass(frozen=True, slots=True)
class Plan:
    """One piece, planned. Renderers show it and compute nothing."""

    source: Source
    surface: PieceSurface
    treatments: tuple[Treatment, ...]
    sanding: SandingPlan
    materials: MaterialPlan
    timetable: Timetable
    cautions: tuple[CautionLine, ...]
    safety: Safety
    findings: tuple[Problem, ...]
    """What risks to fail between timber and coats, with what to do about it."""
    drawings: Mapping[str, str]
    """The drawing of every part, as SVG, by the part's name."""
    version: str = __version__


@dataclass(frozen=True, slots=True)
class Work:
    """What treatments take: sanding, steps, materials, and when each step is done."""

    sanding: SandingPlan
    operations: tuple[Operation, ...]
    materials: MaterialPlan
    timetable: Timetable


def order_of(
    sources: Sequence[Source],
    found: Sequence[tuple[Treatment, ...]],
    sanding: Sequence[SandingPlan],
    *,
    now: datetime,
    deliver: Calendar | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
) -> MaterialPlan:
    """Return what pieces of one shop need together.

    Parameters
    ----------
    sources, found, sanding
        The pieces, what each of their items gets, and how they are sanded
    now
        When a piece that names no delivery is taken to be finished: what is on the shelf has to keep until then
    deliver
        The delivery, where it is not that of the piece files
    confidence
        The probability wanted that what is bought is enough
    """
    names = [source.piece.name for source in sources]
    jobs = [
        _material_job(name if names.count(name) == 1 else f"{name} ({number})", source, treated, sanded, now, deliver)
        for number, (name, source, treated, sanded) in enumerate(zip(names, sources, found, sanding, strict=True), 1)
    ]
    first = sources[0]
    return material_plan(jobs, first.catalogue, first.shop.shelf, units=first.units, confidence=confidence)


def _material_job(
    name: str,
    source: Source,
    found: tuple[Treatment, ...],
    sanding: SandingPlan,
    now: datetime,
    deliver: Calendar | None,
) -> MaterialJob:
    due = deliver or source.piece.deliver
    abrading = [step for steps in sanding.abrading.values() for step in steps]
    return MaterialJob(
        piece=name,
        treatments=found,
        last_grits={group.group: group.steps[-1].p_grade for group in sanding.groups if group.steps},
        sanding_h=Range.total(
            step.hours for steps in (*(group.steps for group in sanding.groups), abrading) for step in steps
        ),
        abrasives=tuple(AbrasiveUse(need.abrasive, need.grit, need.needed) for need in sanding.abrasives),
        day=due.day if due is not None else now.astimezone(source.shop.time_zone).date(),
    )


def air_risks(
    sources: Sequence[Source], found: Sequence[tuple[Treatment, ...]], timetable: Timetable
) -> tuple[Problem, ...]:
    """Return the warnings about the air of the shop: what it does to the wood, and a log that does not reach so far.

    The default shop is nobody's; nothing is said of its air.
    """
    shop_file, catalogue = sources[0].shop_file, sources[0].catalogue
    if shop_file.document is None or timetable.start is None or timetable.ready is None:
        return ()
    climate, zone = shop_file.shop.climate, shop_file.shop.time_zone
    names = dict.fromkeys(step.finish for of_piece in found for one in of_piece for step in one.steps if step.finish)
    finishes = [catalogue.finishes[name] for name in names]
    findings = moisture_findings(Weather(climate, zone), timetable.start, finishes, catalogue)
    findings += log_findings(climate, timetable.start, timetable.ready)
    return tuple(shop_file.document.problem(finding) for finding in findings)


def work_of(
    source: Source,
    surface: PieceSurface,
    found: tuple[Treatment, ...],
    *,
    now: datetime,
    deliver: Calendar | None,
    confidence: float = DEFAULT_CONFIDENCE,
    wishes: Wishes | None = None,
) -> Work:
    """Return what treatments take, as late as is safe before *deliver*, or at once where that is None."""
    piece = treated(source, surface, found)
    return Work(
        sanding=piece.sanding,
        operations=piece.operations,
        materials=order_of([source], [found], [piece.sanding], now=now, deliver=deliver, confidence=confidence),
        timetable=timetable_of([piece], [deliver], now=now, wishes=wishes),
    )


def around_of(source: Source) -> Around:
    """Return where a piece is finished, as its safety is reckoned."""
    return Around(
        catalogue=source.catalogue,
        shop=source.shop,
        units=source.units,
        rooms_given="rooms" not in source.shop_file.defaults,
        built=source.piece.built,
    )


def make_plan(
    source: Source,
    *,
    now: datetime,
    deliver: Calendar | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
    wishes: Wishes | None = None,
) -> Plan:
    """Return the plan of a piece.

    Parameters
    ----------
    source
        What was read
    now
        The earliest moment at which work may start; knows its time zone
    deliver
        The delivery, where it is not the piece file's
    confidence
        The probability wanted that what is bought is enough
    wishes
        What else is wanted of the timetable

    Raises
    ------
    RefusedError
        A part lacks a timber or a system, the shop lacks a method, or two things do not go together.
    """
    surface = surface_of(source)
    found = treatments_of(source, surface)
    work = work_of(
        source, surface, found, now=now, deliver=deliver or source.piece.deliver, confidence=confidence, wishes=wishes
    )
    around = around_of(source)
    coats = [coat for need in work.materials.materials for coat in need.coats]
    return Plan(
        source=source,
        surface=surface,
        treatments=found,
        sanding=work.sanding,
        materials=work.materials,
        timetable=work.timetable,
        cautions=cautions(found, source.catalogue, circumstances(work.sanding, around)),
        safety=safety_report(found, coats, work.sanding, work.timetable, around),
        findings=(*risks_of(source, found), *air_risks([source], [found], work.timetable)),
        drawings=piece_drawings(source.piece, source.units),
    )
