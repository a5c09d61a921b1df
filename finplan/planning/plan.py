"""The order of the rooms: from files to one frozen Plan. Nothing is computed after it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.catalogue import Catalogue
from finplan.climate import Weather, log_findings, moisture_findings, pot_lives
from finplan.drawing import piece_drawings
from finplan.figures import checked
from finplan.inputs import Shop, ShopFile
from finplan.material import DEFAULT_CONFIDENCE, AbrasiveUse, Market, MaterialJob, MaterialPlan, material_plan
from finplan.planning.source import Paper, Source, digest_of, risks_of
from finplan.planning.timing import Treated, Wishes, piece_names, timetable_of, treated_pieces
from finplan.problems import Problem
from finplan.quantity import Range, Units
from finplan.reading import Calendar
from finplan.safety import Around, CautionLine, Precautions, Safety, background_of, precautions, safety_report
from finplan.sanding import SandingPlan
from finplan.surface import PieceSurface
from finplan.system import Treatment
from finplan.timetable import PieceTimes, ReadyFor, Timetable, TimetableStep
from finplan.version import __version__


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """What a plan holds of one piece alone."""

    name: str
    """As the rows of the timetable name it: that of its file, told apart where two have the same."""
    key: str
    """What all ids of the piece begin with; empty where there is one piece only."""
    source: Source
    surface: PieceSurface
    treatments: tuple[Treatment, ...]
    sanding: SandingPlan
    drawings: Mapping[str, str]
    """The drawing of every part, as SVG, by the part's name."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Pieces finished together in one shop, planned. Renderers show it and compute nothing."""

    pieces: tuple[PlannedPiece, ...]
    catalogue: Catalogue
    """With the shop's own values laid over it."""
    shop_file: ShopFile
    units: Units
    paper: Paper
    materials: MaterialPlan
    timetable: Timetable
    safety: Safety
    precautions: Precautions
    findings: tuple[Problem, ...]
    """What risks to fail between timber and coats, or in this air, with what to do about it."""
    ready_for: ReadyFor
    """What the customer may do with a piece when it is ready."""
    done: Mapping[str, datetime]
    """When steps ended that were done before this plan, by their id."""
    digest: str
    """Of the bytes of all files, so that a sheet can be matched to what it was made from."""
    version: str = __version__

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.shop_file.shop

    @property
    def cautions(self) -> tuple[CautionLine, ...]:
        """The cautions, the worst danger first."""
        return self.precautions.cautions

    @property
    def treatments(self) -> tuple[Treatment, ...]:
        """What every item of every piece gets."""
        return tuple(treatment for piece in self.pieces for treatment in piece.treatments)

    def piece_of(self, owned: Treatment | TimetableStep | PieceTimes) -> PlannedPiece:
        """Return the piece of a treatment, of a row of the timetable, or of a piece's times in it."""
        if isinstance(owned, Treatment):
            return next(piece for piece in self.pieces if piece.key == owned.key)
        return next(piece for piece in self.pieces if piece.name == owned.piece)


def order_of(
    pieces: Sequence[Treated],
    *,
    now: datetime,
    deliver: Calendar | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
) -> MaterialPlan:
    """Return what pieces of one shop need together.

    Parameters
    ----------
    pieces
        The pieces with what each of their items gets and how they are sanded
    now
        When a piece that names no delivery is taken to be finished: what is on the shelf has to keep until then
    deliver
        The delivery, where it is not that of the piece files
    confidence
        The probability wanted that what is bought is enough
    """
    jobs = [_material_job(name, piece, now, deliver) for name, piece in zip(piece_names(pieces), pieces, strict=True)]
    first = pieces[0].source
    finishes = {step.finish for piece in pieces for one in piece.treatments for step in one.steps if step.finish}
    order = material_plan(
        jobs,
        first.catalogue,
        first.shop.shelf,
        units=first.units,
        confidence=confidence,
        pot_lives_h=pot_lives(finishes, first.catalogue, first.shop.climate),
    )
    return checked(order, "the materials")


def _material_job(name: str, piece: Treated, now: datetime, deliver: Calendar | None) -> MaterialJob:
    sanding = piece.sanding
    due = deliver or piece.source.piece.deliver
    abrading = [step for steps in sanding.abrading.values() for step in steps]
    return MaterialJob(
        piece=name,
        treatments=piece.treatments,
        last_grits={group.group: group.steps[-1].p_grade for group in sanding.groups if group.steps},
        sanding_h=Range.total((*(group.hours for group in sanding.groups), *(step.hours for step in abrading))),
        abrasives=tuple(AbrasiveUse(need.abrasive, need.grit, need.needed) for need in sanding.abrasives),
        day=due.day if due is not None else now.astimezone(piece.source.shop.time_zone).date(),
    )


def air_risks(pieces: Sequence[Treated], timetable: Timetable) -> tuple[Problem, ...]:
    """Return the warnings about the air of the shop: what it does to the wood, and a log that does not reach so far.

    The default shop is nobody's; nothing is said of its air.
    """
    shop_file, catalogue = pieces[0].source.shop_file, pieces[0].source.catalogue
    if shop_file.document is None or timetable.start is None or timetable.ready is None:
        return ()
    climate, zone = shop_file.shop.climate, shop_file.shop.time_zone
    steps = (step for piece in pieces for one in piece.treatments for step in one.steps)
    names = dict.fromkeys(step.finish for step in steps if step.finish)
    finishes = [catalogue.finishes[name] for name in names]
    findings = moisture_findings(Weather(climate, zone), timetable.start, finishes, catalogue)
    findings += log_findings(climate, timetable.start, timetable.ready)
    return tuple(shop_file.document.problem(finding) for finding in findings)


def around_of(sources: Sequence[Source]) -> Around:
    """Return where pieces are finished, as their safety is reckoned."""
    first = sources[0]
    return Around(
        catalogue=first.catalogue,
        shop=first.shop,
        units=first.units,
        rooms_given="rooms" not in first.shop_file.defaults,
    )


def make_plan(
    sources: Sequence[Source],
    *,
    now: datetime,
    deliver: Calendar | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
    wishes: Wishes | None = None,
) -> Plan:
    """Return the plan of one piece, or of several that are finished together.

    Parameters
    ----------
    sources
        What was read of each; all with the same shop, shown in the units of the first
    now
        The earliest moment at which work may start; knows its time zone
    deliver
        The delivery, where it is not the piece files'
    confidence
        The probability wanted that what is bought is enough
    wishes
        What else is wanted of the timetable

    Raises
    ------
    RefusedError
        A part lacks a timber or a system, the shop lacks a method, or two things do not go together.
    NotFoundYetError
        No timetable was found in the time, and none was proven impossible.
    """
    first = sources[0]
    pieces = treated_pieces(sources)
    deliveries = [deliver or source.piece.deliver for source in sources]
    materials = order_of(pieces, now=now, deliver=deliver, confidence=confidence)
    timetable = timetable_of(pieces, deliveries, now=now, wishes=wishes)
    found = [treatment for piece in pieces for treatment in piece.treatments]
    coats = [coat for need in materials.materials for coat in need.coats]
    around, sanding = around_of(sources), [piece.sanding for piece in pieces]
    safety = checked(safety_report(found, coats, sanding, timetable, around), "the safety")
    last = max((row.end.date() for row in timetable.steps), default=now.date())
    market = Market(first.catalogue, first.shop.shelf, first.units, confidence, last)
    named = zip(piece_names(pieces), pieces, strict=True)
    return Plan(
        pieces=tuple(_planned(name, piece, first.units) for name, piece in named),
        catalogue=first.catalogue,
        shop_file=first.shop_file,
        units=first.units,
        paper=first.paper,
        materials=materials,
        timetable=timetable,
        safety=safety,
        precautions=precautions(found, timetable, safety, background_of(sanding, around), market),
        findings=(
            *(risk for piece in pieces for risk in risks_of(piece.source, piece.treatments)),
            *air_risks(pieces, timetable),
        ),
        ready_for=(wishes or Wishes()).ready_for,
        done=dict(wishes.done) if wishes else {},
        digest=digest_of(sources),
    )


def _planned(name: str, piece: Treated, units: Units) -> PlannedPiece:
    return PlannedPiece(
        name=name,
        key=piece.key,
        source=piece.source,
        surface=piece.surface,
        treatments=piece.treatments,
        sanding=piece.sanding,
        drawings=piece_drawings(piece.source.piece, units),
    )
