"""The front: all of the job on one page, for who stands two metres away and for who rings."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from finplan.listing import counted, listed, number_of, some
from finplan.moments import show_day, show_moment, show_year_day
from finplan.planning import Plan
from finplan.safety import RowCare, SessionReport
from finplan.sheet.days import anchor_of
from finplan.sheet.picture import Picture, picture
from finplan.showing import capital
from finplan.system import Treatment
from finplan.telling import (
    NO_DELIVERY,
    READY,
    Moved,
    Names,
    OfItem,
    agenda_of,
    approvals_told,
    asked_in_words,
    chance_words,
    done_words,
    in_time_with,
    last_start,
    lost_days_words,
    mark_of,
    marked_name,
    moved_words,
    names_together,
    not_to_plan,
    notes_told,
    of_twenty,
    only_dries_there,
    ordering_told,
    ready_at,
    risk_words,
    row_air_words,
    sample_due_words,
    sprayed_without_booth,
    stops_words,
    system_title,
    treatment_words,
    would_fit_words,
)
from finplan.timetable import PieceTimes, Timetable


@dataclass(frozen=True, slots=True)
class Fact:
    """Something to know at a glance."""

    name: str
    value: str
    short: bool = False
    """Whether it is less than the shop wants."""


@dataclass(frozen=True, slots=True)
class PieceRow:
    """One of several pieces: the letter that stands for it, its dates, and how likely they are kept."""

    mark: str
    name: str
    customer: str
    start: str
    ready: str
    deliver: str
    on_time: str
    short: bool


@dataclass(frozen=True, slots=True)
class DayLine:
    """A day, or days on which nothing is done."""

    days: str
    people: tuple[tuple[str, str], ...]
    """Who with the hours, and what."""
    idle: str
    amounts: str
    dates: str
    anchor: str
    """Of the day itself; empty where nothing is done."""


@dataclass(frozen=True, slots=True)
class SystemLine:
    """What some items get, in one sentence."""

    items: str
    title: str
    sentence: str
    short: str
    """The items by their names alone, for several pieces."""


@dataclass(frozen=True, slots=True)
class Danger:
    """One of the worst dangers of this piece."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class FirstPage:
    """All of the front."""

    across: str
    """What stands across the head: that it is sprayed without a booth; empty where it is not."""
    kicker: str
    """What it is, whose, and which plan, made when."""
    customer: str
    """Of the one piece; of several each has its own in its row."""
    ready_for: str
    """What a piece is when it is ready."""
    facts: tuple[Fact, ...]
    sure: tuple[str, ...]
    """How sure the dates are, where less than is wanted or where none is given."""
    pieces: tuple[PieceRow, ...]
    """Where there are several."""
    systems: tuple[SystemLine, ...]
    days: tuple[DayLine, ...]
    dangers: tuple[Danger, ...]
    air: tuple[str, ...]
    """What is reckoned of the air of each session."""
    rules_first: str
    """What comes before all that is said of dangers."""
    not_to_plan: tuple[tuple[str, str], ...]
    picture: Picture | None
    sample: str
    """By when the sample board has to be found good; empty where nothing is coated."""
    approves: str
    """Who finds it good."""
    ring: str
    """Whom to ring when in doubt, with the number; empty where the shop file does not say."""
    mind: tuple[str, ...]
    """What risks to fail on this timber, under this finish, or in this air, and what was assumed."""
    order: str
    """By when the first things are ordered, and what comes too late; empty where the shop names no suppliers."""
    done: tuple[str, ...]
    """What was done before this plan, an item a line."""
    lost: tuple[str, ...]
    """The days that are lost, where that is not told of the plan before."""
    moved: Moved | None
    """What is otherwise than on the sheet before; None where there is none."""
    notes: tuple[str, ...]
    """The shop's own."""


def first_page(plan: Plan) -> FirstPage:
    """Return the front of a plan."""
    moved = moved_words(plan)
    customers = dict.fromkeys(piece.source.piece.customer or "" for piece in plan.pieces)
    return FirstPage(
        across=sprayed_without_booth(plan.safety, plan.shop.spray_without_booth),
        kicker=_kicker(plan),
        customer=next(iter(customers)) if len(plan.pieces) == 1 else "",
        ready_for=READY[plan.ready_for],
        facts=_facts(plan),
        sure=_sure(plan.timetable),
        pieces=_pieces(plan) if len(plan.pieces) > 1 else (),
        systems=_systems(plan),
        days=_days(plan),
        dangers=tuple(Danger(line.title, line.text) for line in plan.precautions.worst),
        air=_air(plan),
        rules_first=plan.precautions.rules_first,
        not_to_plan=not_to_plan(plan),
        picture=picture(plan),
        sample=sample_due_words(plan) or _before_first_coat(plan),
        approves=_approves([name for name in customers if name]),
        ring=re.sub(r"(?<=\d) (?=\d)", "\u00a0", plan.shop.ring or ""),  # a number is dialled from one line
        mind=(
            *(approval.words for approval in approvals_told(plan)),
            *asked_in_words(plan),
            *risk_words(plan),
            *notes_told(plan.timetable),
        ),
        order=_ordered(plan),
        done=done_words(plan),
        lost=() if moved else lost_days_words(plan),
        moved=moved,
        notes=plan.shop.notes.first_page,
    )


def _before_first_coat(plan: Plan) -> str:
    """Return when a sample board is due that is not asked for; empty where coats are on already, or none is put on."""
    if any(
        operation.finish is not None and operation.id in plan.done
        for piece in plan.pieces
        for operation in piece.operations
    ):
        return ""
    coat = next((row.start for row in plan.timetable.steps if row.deed in ("coat", "fill")), None)
    return "" if coat is None else f"before the first coat, {show_moment(coat)}"


def _ordered(plan: Plan) -> str:
    trips = ordering_told(plan)
    if not trips:
        return ""
    told = listed([f"{trip.by[:1].lower()}{trip.by[1:]} ({number_of(len(trip.orders), 'thing')})" for trip in trips])
    late = " ".join(line for trip in trips for line in trip.late)
    return f"{capital(told)}; Buy and mix lists them.{f' Too late: {late}' if late else ''}"


def _sure(table: Timetable) -> tuple[str, ...]:
    """Return how sure the dates are, where less than is wanted or where none is given, and what would make them so."""
    if not table.unsure and table.deliver is not None:
        return ()
    helps = (f"To be sure enough, {would_fit_words(fit, table.working_day_h)}." for fit in table.would_be_sure[:1])
    return (*chance_words(table), *filter(None, [in_time_with(table)]), *helps)


def _approves(customers: Sequence[str]) -> str:
    return "each customer" if len(customers) > 1 else next(iter(customers), "the maker")


def _kicker(plan: Plan) -> str:
    shop = f" · {plan.shop.shop}" if plan.shop_file.document else ""
    number = "" if plan.number is None else f", plan {plan.number}"
    return f"Finishing schedule{shop} · made {show_year_day(plan.made_on)}{number}"


def _pieces(plan: Plan) -> tuple[PieceRow, ...]:
    return tuple(
        PieceRow(
            mark=mark_of(piece, plan),
            name=piece.name,
            customer=piece.source.piece.customer or "",
            start=show_moment(times.start),
            ready=show_moment(ready_at(times)),
            deliver=NO_DELIVERY if times.deliver is None else show_moment(times.deliver),
            on_time="" if times.in_time is None else of_twenty(times.in_time),
            short=times in plan.timetable.unsure,
        )
        for times in plan.timetable.pieces
        for piece in (plan.piece_of(times),)
    )


def _facts(plan: Plan) -> tuple[Fact, ...]:
    table, latest = plan.timetable, last_start(plan)
    facts = [Fact("Begin", show_moment(table.start))] if table.start else []
    facts += [Fact("At the very latest", show_moment(latest))] if latest else []
    if len(plan.pieces) == 1:  # of several each has its own row
        facts += [fact for times in table.pieces for fact in _dates(times, plan)]
    return tuple(facts)


def _dates(times: PieceTimes, plan: Plan) -> list[Fact]:
    deliver = NO_DELIVERY if times.deliver is None else show_moment(times.deliver)
    facts = [Fact("Deliver", deliver)]
    if times.in_time is not None:
        facts.append(Fact("On time in", of_twenty(times.in_time), times in plan.timetable.unsure))
    return facts


def _days(plan: Plan) -> tuple[DayLine, ...]:
    return tuple(
        DayLine(
            days=line.days,
            people=tuple((person.who, person.jobs) for person in line.people),
            idle=line.idle,
            amounts=line.amounts,
            dates="; ".join(line.dates),
            anchor=anchor_of(line.first) if line.people else "",
        )
        for line in agenda_of(plan)
    )


AskedOfAir = tuple[str, bool, bool, bool, int]
"""The verdict on a session, whether it is in a booth, with isocyanate, with figures, and in how many sentences."""


def _air(plan: Plan) -> tuple[str, ...]:
    """Return what is reckoned of the air, a room a line; of those that ask for the same, the one with most vapour."""
    asking: dict[str, dict[AskedOfAir, dict[str, None]]] = {}
    worst: dict[tuple[str, AskedOfAir], tuple[float, RowCare]] = {}
    enough: dict[str, tuple[float, str]] = {}
    rows = {row.id: row for row in plan.timetable.steps if row.deed in ("coat", "fill", "extra")}
    for report in plan.safety.sessions:
        for row in (rows[name] for name in report.steps if name in rows):
            care, day = plan.precautions.rows.get(row.id), show_day(row.start.date())
            session = report.session
            if care is None or only_dries_there(report, row.id):
                continue  # of the room in which it dries its words tell as well
            told, share = row_air_words(care, plan.units), max(map(_share, care.sessions))
            if care.air_enough:
                enough[row.room] = max(enough.get(row.room, (-1.0, "")), (share, f"At the worst, {day}: {told[0]}"))
                continue
            asked = (session.verdict, session.in_booth, session.isocyanate, share > 0, len(told))
            asking.setdefault(row.room, {}).setdefault(asked, {})[day] = None
            if (row.room, asked) not in worst or share > worst[row.room, asked][0]:
                worst[row.room, asked] = (share, care)
    by_room = {
        room: list(
            dict.fromkeys(
                f"{listed(days)}{', at the worst' * (len(days) > 1)}: "
                + " ".join(row_air_words(worst[room, asked][1], plan.units, of_days=len(days) > 1))
                for asked, days in by_asked.items()
            )
        )
        for room, by_asked in asking.items()
    }
    for room, (_, words) in enough.items():
        by_room.setdefault(room, []).append(words)
    return tuple(f"{room}: {' '.join(lines)}" for room, lines in by_room.items())


def _share(report: SessionReport) -> float:
    """Return how much of the limit is in the air of a session at the most; 0 where that is not known."""
    on = report.session.fan_on
    return 0.0 if on is None or on.high.breathing is None else on.high.breathing


def _systems(plan: Plan) -> tuple[SystemLine, ...]:
    """Return what every item gets; items that get the same share a sentence, however each is sanded."""
    alike: dict[tuple[str, str], list[Treatment]] = {}
    for treatment in plan.treatments:
        title = system_title([treatment], plan.catalogue)
        alike.setdefault((title, treatment_words(treatment, "", plan)), []).append(treatment)
    return tuple(_system(title, treatments, plan) for (title, _), treatments in alike.items())


def _system(title: str, treatments: list[Treatment], plan: Plan) -> SystemLine:
    def called(treatment: Treatment, name: str) -> OfItem[None]:
        return OfItem(name, treatment.item, treatment.number, None, treatment.of_several)

    items = {
        (treatment.key, treatment.item): called(treatment, marked_name(treatment.item, plan.piece_of(treatment), plan))
        for treatment in treatments
    }
    short = some(names_together(items.values()))
    stops = [stops_words(treatment, plan) for treatment in treatments]
    names = [called(treatment, _named(treatment, plan)) for treatment in treatments]
    if len(set(stops)) == 1:
        return SystemLine(some(names_together(names)), title, treatment_words(treatments[0], stops[0], plan), short)
    by_stop: dict[str, list[OfItem[None]]] = {}
    for name, stop in zip(names, stops, strict=True):
        by_stop.setdefault(stop, []).append(name)
    sanded = [f"{some(names_together(of_stop))}, sanded to {stop}" for stop, of_stop in by_stop.items()]
    return SystemLine("; ".join(sanded), title, treatment_words(treatments[0], "", plan), short)


def _named(treatment: Treatment, plan: Plan) -> str:
    """Return an item with how many of it there are, an assembly with its parts."""
    counts = {part.part: part.count for part in plan.piece_of(treatment).surface.parts}
    name = Names(plan).of_treatment(treatment, counts)
    if not treatment.loose and name.endswith(treatment.item):
        name += f" ({some([counted(part, counts[part]) for part in treatment.parts])})"
    return name
