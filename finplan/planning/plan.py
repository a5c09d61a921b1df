"""Pieces finished together in one shop, planned stage by stage: each when it is first asked for, and once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property

from finplan.catalogue import Catalogue
from finplan.costing import Quote
from finplan.figures import checked
from finplan.inputs import Paper, ShelfItem, Shop, ShopFile
from finplan.material import DEFAULT_CONFIDENCE, NO_LESSONS, Lessons, Market, MaterialPlan
from finplan.planning.approval import approval_of
from finplan.planning.costs import quote_for
from finplan.planning.fit_air import Looked, in_fit_air
from finplan.planning.late_approval import approval_keeps
from finplan.planning.measures import Measures, measures_of
from finplan.planning.order import order_of
from finplan.planning.piece import PlannedPiece
from finplan.planning.several import refuse
from finplan.planning.source import digest_of
from finplan.planning.surroundings import air_risks, around_of
from finplan.planning.timing import draft_of, keeps_dates_approved, slips_if_late
from finplan.planning.wet_edges import WetEdge, wet_edges
from finplan.planning.wishes import Wishes
from finplan.problems import Problem
from finplan.quantity import Units
from finplan.reading import GivenDate
from finplan.safety import CautionLine, Precautions, Safety, background_of, precautions, safety_report
from finplan.system import Treatment
from finplan.timetable import Kept, PieceTimes, ReadyFor, Slips, Timetable, TimetableStep, delivery_time, rows_before
from finplan.version import __version__


@dataclass(frozen=True, eq=False, repr=False)
class Plan:
    """Pieces finished together in one shop, planned. Renderers show it and compute nothing.

    A stage raises ``RefusedError`` with every problem of all pieces where they cannot be finished so, and the timetable
    and what rests on it ``NotFoundYetError`` where no plan was found in the time and none was proven impossible.
    """

    pieces: tuple[PlannedPiece, ...]
    now: datetime
    """The earliest moment at which work may start; knows its time zone."""
    deliver: GivenDate | None = None
    """The delivery, where it is not the piece files'."""
    confidence: float = DEFAULT_CONFIDENCE
    """The probability wanted that what is bought is enough."""
    wishes: Wishes = field(default_factory=Wishes)
    """What else is wanted of the timetable."""
    lessons: Lessons = NO_LESSONS
    """What the shop has learnt of its amounts."""
    shelf: tuple[ShelfItem, ...] | None = None
    """What stands on the shelf by the shop's record; None for what the shop file says."""
    number: int | None = None
    """The how-manieth plan of these pieces it is; None of one that is not held."""
    held_since: datetime | None = None
    """When it was written into the record; None of one that is not held."""
    replaced: Timetable | None = None
    """The timetable of the plan before it; None where there is none."""
    measured_before: Measures | None = None
    """The measures of the plan before it; None where there is none, or they are not known."""
    version: str = __version__

    @cached_property
    def catalogue(self) -> Catalogue:
        """The catalogue, with the shop's own values laid over it."""
        return self.pieces[0].source.catalogue

    @cached_property
    def shop_file(self) -> ShopFile:
        """The shop as it was read."""
        return self.pieces[0].source.shop_file

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.shop_file.shop

    @cached_property
    def units(self) -> Units:
        """The units that the plan is shown in."""
        return self.pieces[0].source.units

    @cached_property
    def paper(self) -> Paper:
        """What the plan is printed on."""
        return self.pieces[0].source.paper

    @property
    def on_shelf(self) -> tuple[ShelfItem, ...]:
        """What stands on the shelf."""
        return self.shop.shelf if self.shelf is None else self.shelf

    @property
    def ready_for(self) -> ReadyFor:
        """What the customer may do with a piece when it is ready."""
        return self.wishes.ready_for

    @property
    def done(self) -> Mapping[str, datetime]:
        """When steps ended that were done before this plan, by their id."""
        return self.wishes.done

    @property
    def made_on(self) -> date:
        """The day on which it was made, whenever work begins."""
        return (self.held_since or self.wishes.soonest or self.now).astimezone(self.shop.time_zone).date()

    @property
    def deliveries(self) -> list[GivenDate | None]:
        """The date of each piece; None for none."""
        return [self._sample_due(piece) if piece.sample else self._due(piece) for piece in self.pieces]

    def _due(self, piece: PlannedPiece) -> GivenDate | None:
        return self.deliver or piece.source.piece.deliver

    def _sample_due(self, piece: PlannedPiece) -> GivenDate | None:
        """Return until when a sample is to be approved; None where it is made and that is over: then it comes late."""
        due = piece.source.piece.deliver
        at = delivery_time(due, self.shop)
        over = at is not None and at < self.now
        return None if over and all(operation.id in self.done for operation in piece.operations[:-1]) else due

    @cached_property
    def digest(self) -> str:
        """Of the bytes of all files, so that a sheet can be matched to what it was made from."""
        return digest_of([piece.source for piece in self.pieces if not piece.sample])

    @cached_property
    def treatments(self) -> tuple[Treatment, ...]:
        """What every item of every piece gets."""
        refuse(self.pieces)
        return tuple(treatment for piece in self.pieces for treatment in piece.treatments)

    @cached_property
    def materials(self) -> MaterialPlan:
        """Millilitres of every coat, how sure, which packs to buy, what they cost."""
        refuse(self.pieces)
        return order_of(
            self.pieces,
            now=self.now,
            deliver=self.deliver,
            confidence=self.confidence,
            lessons=self.lessons,
            shelf=self.shelf,
        )

    @cached_property
    def measures(self) -> Measures:
        """How much there is to finish and what it takes, in a few figures."""
        return measures_of(self.pieces, self.materials)

    @cached_property
    def timetable(self) -> Timetable:
        """Who does what when; how late it may start; how sure it is; what clashes."""
        refuse(self.pieces)

        def planned(air_waits_h: Mapping[str, float]) -> Looked:
            draft = draft_of(self.pieces, self.deliveries, now=self.now, wishes=self.wishes, air_waits_h=air_waits_h)
            return Looked(Kept(draft.timetable, self.now), lambda: Kept(draft.told(), self.now))

        kept = in_fit_air(planned, self.pieces, lambda: self.materials.coats, now=self.now, done=self.done)
        return kept.timetable

    @cached_property
    def slips(self) -> Slips:
        """Until when each step may begin with every date kept, and what a lost day leaves of them."""
        return slips_if_late(self.pieces, self.deliveries, self.timetable, now=self.now, wishes=self.wishes)

    @cached_property
    def approvals_keep(self) -> Mapping[str, datetime]:
        """By the names of pieces that wait for it, until when their sample may be approved with every date kept."""
        keep: dict[str, datetime] = {}
        for piece in self.pieces:
            approval = None if piece.sample else approval_of(piece, self.now, self.done)
            if approval is None or approval.signed:
                continue

            def can_wait(moment: datetime, piece: PlannedPiece = piece) -> bool:
                return keeps_dates_approved(
                    piece, moment, self.pieces, self.deliveries, self.timetable, now=self.now, wishes=self.wishes
                )

            keeps = approval_keeps(piece, self.timetable, self.slips, can_wait)
            if keeps is not None:
                keep[piece.name] = keeps
        return keep

    @property
    def knows_timetable(self) -> bool:
        """Whether its timetable is reckoned, or given, so that nothing has to be waited for that follows from it."""
        return "timetable" in vars(self)

    @cached_property
    def safety(self) -> Safety:
        """Vapour and air of each coating session, cloths, dust, rules."""
        sanding = [piece.sanding for piece in self.pieces]
        around = around_of(self.pieces[0].source)
        operations = (operation for piece in self.pieces for operation in piece.operations)
        before = rows_before(operations, self.done, self.shop, self.now)
        coats = self.materials.coats
        return checked(safety_report(self.treatments, coats, sanding, self.timetable, around, before), "the safety")

    @cached_property
    def precautions(self) -> Precautions:
        """What is done about all that is dangerous: cautions, what a row asks for, what is had and bought."""
        around, sanding = around_of(self.pieces[0].source), [piece.sanding for piece in self.pieces]
        last = max((row.end.date() for row in self.timetable.steps), default=self.now.date())
        market = Market(self.catalogue, self.on_shelf, self.units, self.confidence, last)
        background = background_of(sanding, around)
        beside = {need.name: need.needed for need in self.materials.consumables if need.grit is None}
        return precautions(self.treatments, self.timetable, self.safety, background, market, beside, self.helpers)

    @property
    def ordered(self) -> MaterialPlan:
        """The materials as they are bought with what safety asks for: what both use up is counted there, once."""
        return self.materials.without({need.name for need in self.precautions.gear.buy})

    @cached_property
    def wet_edges(self) -> tuple[WetEdge, ...]:
        """How much of each coat can be kept wet, and into how many parts a face is divided that is larger."""
        return wet_edges(self.pieces, self.timetable, self.wishes.measured)

    @property
    def helpers(self) -> Mapping[str, str]:
        """Who helps at a coat so that its edge stays wet, by the id of its row."""
        return {edge.row: edge.helper for edge in self.wet_edges if edge.helper is not None}

    @cached_property
    def quote(self) -> Quote:
        """What it costs: hours by kind, materials used and bought, and the sum of them as a range."""
        safety = self.precautions.gear.buy if self.timetable.has_plan else ()
        ordered = self.ordered if self.timetable.has_plan else self.materials
        return quote_for(self.pieces, ordered, self.timetable, self.done, safety)

    @property
    def cautions(self) -> tuple[CautionLine, ...]:
        """The cautions, the worst danger first."""
        return self.precautions.cautions

    @property
    def risks(self) -> tuple[Problem, ...]:
        """What risks to fail between timber and coats, with what to do about it."""
        refuse(self.pieces)
        return tuple(risk for piece in self.pieces for risk in piece.risks)

    @cached_property
    def findings(self) -> tuple[Problem, ...]:
        """What risks to fail between timber and coats, or in this air, with what to do about it."""
        return (*self.risks, *air_risks(self.pieces, self.timetable))

    def piece_of(self, owned: Treatment | TimetableStep | PieceTimes) -> PlannedPiece:
        """Return the piece of a treatment, of a row of the timetable, or of a piece's times in it."""
        if isinstance(owned, Treatment):
            return next(piece for piece in self.pieces if piece.key == owned.key)
        return next(piece for piece in self.pieces if piece.name == owned.piece)

    def times_of(self, piece: str) -> PieceTimes | None:
        """Return when the piece of a name is begun, ready and delivered; None of one that has no times."""
        return next((times for times in self.timetable.pieces if times.piece == piece), None)

    def __repr__(self) -> str:
        names = ", ".join(repr(piece.name) for piece in self.pieces)
        return f"<{type(self).__name__} of {names} from {self.now:%Y-%m-%d %H:%M}>"

    def whole(self) -> Plan:
        """Reckon every stage that a sheet shows, and return the plan: what can be refused has been refused then."""
        for stage in (self.materials, self.timetable, self.safety, self.precautions, self.findings):
            del stage
        return self
