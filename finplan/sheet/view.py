"""All that is printed: display strings only, made from a Plan; the templates compute nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from finplan.listing import listed, shortened
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.sheet.appendix import Appendix, appendix
from finplan.sheet.buying import Buying, buying
from finplan.sheet.care import CareCard, care_cards
from finplan.sheet.cautions import CautionGroup, Precaution, caution_groups, in_two_columns
from finplan.sheet.day_room import DaysPlaced, DaysSet, care_mm, days_placed
from finplan.sheet.days import OnlyDays, WorkingDay, only_days, told_over, working_days
from finplan.sheet.faults_page import FaultsPage, faults_page
from finplan.sheet.first_page import FirstPage, first_page
from finplan.sheet.front_room import Closeness, closeness, over_mm
from finplan.sheet.made import MadeWith, made
from finplan.sheet.placing import Below, CarePlace, SheetSection, below_days
from finplan.sheet.room import PAGE_MM, PageSize
from finplan.sheet.safety_page import SafetyPage, safety_page
from finplan.sheet.sanding_cards import OrderLine, SandingPages, sanding_order, sanding_pages
from finplan.sheet.sanding_rules import rules_in_two_columns
from finplan.sheet.section_room import buying_mm, safety_mm, sanding_mm
from finplan.telling import GritRule
from finplan.typesetting import css_text

_FOOTER_LENGTH = 70
"""Characters that fit on one line of the footer, whatever the letters."""
_NEARLY, _CLOSER = 0.97, 1.1
"""From which share of a page on what is bought is set closer, and up to which that makes it one page."""
_BOUGHT_CLOSE = 0.9
"""Of its height what is bought takes set closer; measured on eight jobs."""
_LONG = 70
"""Characters of a name from which it is set smaller."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The finishing schedule of one piece, or of several that are finished together."""

    key: str
    """Of which plan it is: by this a browser keeps what is ticked."""
    shop: str
    """Empty for the default shop, which is nobody's."""
    name: str
    long_name: bool
    """Whether it is set smaller."""
    footer: Markup
    """For the foot of every page, as a style sheet has it."""
    page_size: PageSize
    whole: bool
    """Whether it is all of it; else the days alone."""
    first: FirstPage
    front: Closeness
    """How close the front is set."""
    front_fits: bool
    """Whether it fits its page; else the days begin below it."""
    buying: Buying
    buying_close: bool
    """Whether it is set closer, to take a page and not a little more, or fewer of several."""
    buying_flows: bool
    """Whether it takes more than a page: then it begins where it stands."""
    rules: tuple[tuple[GritRule, ...], tuple[GritRule, ...]]
    """Of sanding, wherever in the plan, as two columns."""
    sanding_order: tuple[OrderLine, ...]
    sanding: tuple[SandingPages, ...]
    sanding_flows: bool
    days: tuple[WorkingDay, ...]
    days_set: DaysSet
    """How close the days are set."""
    going_on: frozenset[str]
    """The anchors of the days that begin where they stand and go on over the page."""
    cautions: tuple[CautionGroup, ...]
    moments: tuple[tuple[Precaution, ...], tuple[Precaution, ...]]
    """The same but for what always holds, as two columns."""
    safety: SafetyPage
    care: tuple[CareCard, ...]
    safety_close: bool
    """Whether it is set closer: it would take a little more than a page, or all of it."""
    safety_flows: bool
    """Whether it begins where it stands and goes on."""
    care_place: CarePlace
    """Where the one card stands; several come last."""
    appendix: Appendix | None
    """None where it is not asked for."""
    faults: FaultsPage | None
    """What to do if a coat goes wrong; None where it is not asked for."""
    made: MadeWith


@dataclass(frozen=True, slots=True)
class AppendixFile:
    """The appendix as a file of its own."""

    name: str
    footer: Markup
    page_size: PageSize
    appendix: Appendix
    made: MadeWith


def appendix_file(plan: Plan) -> AppendixFile:
    """Return the appendix of a plan as a file of its own."""
    name = listed(piece.name for piece in plan.pieces if not piece.sample)
    return AppendixFile(
        name=name,
        footer=_footer(name, plan),
        page_size=_page_size(plan),
        appendix=appendix(plan),
        made=made(plan),
    )


def _page_size(plan: Plan) -> PageSize:
    return "A4" if plan.paper == "a4" else "Letter"


def _footer(name: str, plan: Plan) -> Markup:
    """Return what stands at the foot of every page: which piece, which plan, and when it is due."""
    dates = [piece.deliver for piece in plan.timetable.pieces if piece.deliver is not None]
    due = f"{'deliver' if len(plan.pieces) == 1 else 'first delivery'} {show_moment(min(dates))}" if dates else ""
    number = "" if plan.number is None else f"plan {plan.number}"
    told = " · ".join(filter(None, (number, due)))
    return css_text(" · ".join(filter(None, (shortened(name, _FOOTER_LENGTH - len(told)), told))))


def always(cautions: Sequence[CautionGroup]) -> str:
    """Return what holds at any moment, as it stands before all other cautions."""
    return " ".join(f"{row.title}. {row.text}" for group in cautions if group.always for row in group.rows)


def sheet_of(
    plan: Plan, only: OnlyDays | None = None, *, with_appendix: bool = False, with_faults: bool = False
) -> Sheet:
    """Return what is printed of a plan, or *only* what is wanted of its days; appendix and faults where asked for."""
    name = listed(piece.name for piece in plan.pieces if not piece.sample)
    cautions, first = caution_groups(plan), first_page(plan)
    days, cards, bought, paper = working_days(plan), care_cards(plan), buying(plan), _page_size(plan)
    bought_mm = buying_mm(bought, paper)
    safety, moments = safety_page(plan), in_two_columns(cautions)
    high_mm = safety_mm(safety, moments, always(cautions), paper)
    sanding, order, rules = sanding_pages(plan), sanding_order(plan), rules_in_two_columns(plan)
    front, front_fits = closeness(first, name, paper)
    begun_mm = 0.0 if front_fits or only is not None else over_mm(first, name, paper)
    shown = told_over(days) if only is None else only_days(days, only)
    page = PAGE_MM[paper]
    sanding_high_mm = sanding_mm(sanding, order, rules, paper)
    sanded, flowing = SheetSection(sanding_high_mm, sanding_high_mm > page), bought_mm > _CLOSER * page
    close = (sanded, SheetSection(_BOUGHT_CLOSE * bought_mm, flowing))
    nearly = bought_mm > _NEARLY * page
    last = (close,) if nearly else ((sanded, SheetSection(bought_mm)), close)
    card_mm = care_mm(cards[0], paper) if len(cards) == 1 else None

    def behind(placed: DaysPlaced) -> Below:
        return below_days(placed.may_fill_mm or (placed.filled_mm,), high_mm, card_mm, last, paper)

    placed = days_placed(shown, begun_mm, paper, lambda placed: placed.pages + behind(placed).pages)
    below = behind(placed)
    return Sheet(
        key=plan.digest if plan.number is None else f"{plan.digest} {plan.number}",
        shop=plan.shop.shop if plan.shop_file.document else "",
        name=name,
        long_name=len(name) > _LONG,
        footer=_footer(name, plan),
        page_size=paper,
        first=first,
        front=front,
        front_fits=front_fits,
        buying=bought,
        buying_close=nearly or below.last_close,
        buying_flows=flowing,
        rules=rules,
        sanding_order=order,
        sanding=sanding,
        sanding_flows=sanded.flows,
        whole=only is None,
        days=shown,
        days_set=placed.setting,
        going_on=placed.going_on,
        cautions=cautions,
        moments=moments,
        safety=safety,
        care=cards,
        safety_close=below.safety_close,
        safety_flows=below.safety_flows,
        care_place=below.card,
        appendix=appendix(plan) if with_appendix else None,
        faults=faults_page(plan) if with_faults else None,
        made=made(plan),
    )
