"""A whole plan: what it was made from, and all that came of it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Annotated, Literal

from annotated_types import MinLen

from finplan.buying import trips_of
from finplan.catalogue import Rests
from finplan.data.areas import AreasRow, areas_data
from finplan.data.buying import TripRow, trip_rows
from finplan.data.material_rows import MaterialsRow
from finplan.data.materials import materials_data
from finplan.data.row import CountFromOne, NotNegative, Share, row, row_of, rows_of
from finplan.data.safety import safety_data
from finplan.data.safety_rows import SafetyRow
from finplan.data.sanding import sanding_data
from finplan.data.sanding_rows import SandingRow
from finplan.data.timetable import timetable_data
from finplan.data.timetable_rows import TimetableRow
from finplan.data.treatments import TreatmentRow, treatment_data
from finplan.planning import Plan, PlannedPiece, used_sources
from finplan.quantity import Range, Units
from finplan.telling import ApprovalTold, approvals_told, chance_words, latest_start_words
from finplan.timetable import ReadyFor, Timetable


@row
class ShopRow:
    """Shop."""

    shop: str | None
    """Its name; null where no shop file was given and the default shop was assumed."""
    time_zone: str
    """Its IANA time zone."""
    assumed: tuple[str, ...]
    """The fields of the shop file that the default shop filled in."""


@row
class WarningRow:
    """Warning."""

    where: str
    """The place in the file."""
    wrong: str
    """What may be wrong."""
    expected: str
    """What would help."""


@row
class SourceRow:
    """Source."""

    title: str
    """The publication, or what else it is."""
    section: str | None
    """Where in it."""
    rests: Rests
    """Whether it was published, is common trade practice, or is memory that nobody has checked."""


@row
class ChanceRow:
    """Chance."""

    in_time_probability: Share | None
    """How likely every date is kept, work and drying being quicker or slower; null where there is none."""
    in_time_wanted: Share
    """How likely the shop wants each date to be kept."""
    surely_ready: datetime | None
    """When all is ready as surely as the shop wants dates to be kept."""
    words: tuple[str, ...]
    """The same in words, and the latest start that is as sure; nothing where nothing is planned."""


@row
class PieceRow:
    """Piece."""

    piece: str
    """Its name, told apart by its file where two have the same."""
    key: str
    """What all ids of its steps begin with; empty where there is one piece."""
    customer: str | None
    """Whom it is for."""
    deliver: str | None
    """The date, or date and time, in its file: `2027-03-12`, `2027-03-12 15:00`."""
    warnings: tuple[WarningRow, ...]
    """What is possible but unlikely in its file."""
    areas: AreasRow
    """Its faces, as `finplan areas --json` prints them."""
    treatments: tuple[TreatmentRow, ...]
    """What each item gets."""
    sanding: SandingRow
    """How it is sanded, as `finplan sanding --json` prints it."""


@row
class LatestRow:
    """Latest start."""

    row: str
    """The id of a row of the timetable."""
    latest: datetime
    """Until when it and all planned after it may wait, so that every date is kept if all goes typically then."""


@row
class LostDayRow:
    """Lost day."""

    day: date
    """A day on which somebody was to work."""
    in_time_probability: Share
    """How likely every date is still kept where its work is done on the next, the rest in its order."""


@row
class SlipsRow:
    """Slips."""

    latest: tuple[LatestRow, ...]
    """The steps that may begin late; none of what cannot, of cleaning up, and of what follows on what may not lie."""
    lost_days: tuple[LostDayRow, ...]
    """The days of work."""


@row
class ApprovalRow:
    """Approval."""

    piece: str
    """The piece whose coats wait for it."""
    by: datetime
    """Until when its sample is to be approved."""
    waits_until: datetime
    """Until when the plan waits for it: then, or now where that is over."""
    late: bool
    """Whether it was to be approved before now."""
    keeps_until: datetime | None
    """Until when it may come with every date kept if all goes typically then; null where that is not known."""
    told: str
    """All of it in words."""


@row
class WetEdgeRow:
    """Wet edge.

    The largest flat face of a coat that is wiped on or brushed, beside what can be kept wet of it.
    """

    row: str
    """The id of its row of the timetable."""
    part: str
    """The part with that face."""
    face: str
    """The face."""
    area_m2: NotNegative
    """How large it is. [m²]"""
    asks_m2: NotNegative
    """How much of it is wet at once: all of what is wiped off, else one strip over its whole length. [m²]"""
    temperature_c: float
    """The air in which it is put on. [°C]"""
    open_h: NotNegative
    """How long it can be worked there. [h]"""
    wiped: bool
    """Whether it is wiped off; else its edge is kept wet."""
    keeps_m2: Range
    """How much a person keeps wet. [m²]"""
    plans_m2: NotNegative
    """How much is planned for a person. [m²]"""
    alone: CountFromOne
    """Into how many parts one person divides it."""
    helper: str | None
    """Who is free then and helps; null where nobody is, or nobody is needed or may be in the room."""
    together: CountFromOne
    """Into how many parts two divide it."""


@row
class PlanRow:
    """Plan."""

    format: Literal["finplan-plan/1"]
    """Says what this is."""
    version: str
    """Of the program that planned."""
    digest: str
    """Of the bytes of all files that were read: the same as on the printed sheet."""
    units: Units
    """How the sheet shows amounts; here every number is in the unit of its name."""
    shop: ShopRow
    """Where it is finished."""
    ready_for: ReadyFor
    """What the customer may do with a piece when it counts as ready."""
    pieces: Annotated[tuple[PieceRow, ...], MinLen(1)]
    """The pieces, in the order of the files."""
    materials: MaterialsRow
    """What all pieces need together and what to buy, as `finplan materials --json` prints it."""
    trips: tuple[TripRow, ...]
    """What is ordered by when; none where the shop names no suppliers."""
    timetable: TimetableRow
    """Who does what when, as `finplan timetable --json` prints it."""
    wet_edges: tuple[WetEdgeRow, ...]
    """How much of each coat can be kept wet."""
    chance: ChanceRow
    """How sure the timetable is."""
    approvals: tuple[ApprovalRow, ...]
    """The sample boards that are to be approved before the first coats; none where none is asked for or all are."""
    slips: SlipsRow
    """What it costs when work slips; empty where there is no date."""
    done: dict[str, datetime]
    """What had been done before this plan: when each step ended, by its id."""
    safety: SafetyRow
    """Vapour, air, cloths, dust and cautions, as `finplan safety --json` prints them."""
    warnings: tuple[WarningRow, ...]
    """What risks to fail between timber and coats, or in this air."""
    sources: dict[str, SourceRow]
    """What the values rest on, by the key that `source` names elsewhere."""


def plan_data(plan: Plan) -> PlanRow:
    """Return everything that a plan holds; ``guide/plan.schema.json`` is made from these types.

    The parts are those that the single commands print, so that what reads one of them reads it here too.
    """
    return row_of(
        PlanRow,
        plan,
        format="finplan-plan/1",
        shop=ShopRow(
            shop=plan.shop.shop if plan.shop_file.document else None,
            time_zone=plan.shop.time_zone.key,
            assumed=tuple(plan.shop_file.defaults),
        ),
        pieces=tuple(_piece(piece, plan) for piece in plan.pieces),
        materials=materials_data(plan.ordered, plan.precautions.gear.buy),
        trips=trip_rows(trips_of(plan)) if plan.shop.suppliers else (),
        timetable=timetable_data(plan.timetable),
        wet_edges=rows_of(WetEdgeRow, plan.wet_edges),
        chance=_chance(plan.timetable),
        approvals=tuple(_approval(approval) for approval in approvals_told(plan)),
        slips=SlipsRow(
            latest=tuple(LatestRow(row=name, latest=moment) for name, moment in plan.slips.latest.items()),
            lost_days=tuple(LostDayRow(day=day.day, in_time_probability=day.in_time) for day in plan.slips.lost_days),
        ),
        done=dict(plan.done),
        safety=safety_data(plan),
        warnings=rows_of(WarningRow, plan.findings),
        sources={
            key: SourceRow(title=source.title, section=source.section or None, rests=source.rests)
            for key in _sources(plan)
            for source in (plan.catalogue.sources[key],)
        },
    )


def _sources(plan: Plan) -> Iterable[str]:
    """Return the keys of all that the plan rests on, and those that cautions name while their values are a timber's."""
    return dict.fromkeys((*used_sources(plan), *(line.source for line in plan.cautions)))


def _piece(piece: PlannedPiece, plan: Plan) -> PieceRow:
    source = piece.source
    return PieceRow(
        piece=piece.name,
        key=piece.key,
        customer=source.piece.customer,
        deliver=None if source.piece.deliver is None else str(source.piece.deliver),
        warnings=rows_of(WarningRow, source.warnings),
        areas=areas_data(piece.surface),
        treatments=tuple(map(treatment_data, piece.treatments)),
        sanding=sanding_data(piece.sanding, plan.safety.dust),
    )


def _approval(told: ApprovalTold) -> ApprovalRow:
    return row_of(ApprovalRow, told.approval, piece=told.piece, keeps_until=told.keeps_until, told=told.words)


def _chance(timetable: Timetable) -> ChanceRow:
    words = (*chance_words(timetable), *filter(None, [latest_start_words(timetable)]))
    return row_of(ChanceRow, timetable, words=words)
