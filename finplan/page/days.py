"""The days of a piece in the words of the sheet: dates, chance, what each day brings, what clashes, what would help."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from finplan.page.helps import NO_SHOP, Writes, writes_of
from finplan.planning import Plan
from finplan.sheet import Sheet, sheet_of
from finplan.telling import chance_words, clash_words, would_fit_words
from finplan.timetable import WouldFit


@dataclass(frozen=True, slots=True)
class Help:
    """What would help, and what is written so that it is done; nothing where it cannot be."""

    words: str
    writes: Writes = field(default_factory=Writes)
    told: tuple[str, ...] = ()
    """What is written into which file, in words; or why nothing can be."""
    wants_shop: bool = False
    """Whether a shop file has to be begun first."""

    @property
    def can_be_done(self) -> bool:
        """Whether there is something to write."""
        return self.writes != Writes()

    def sent(self, shop: str) -> dict[str, str]:
        """Return what its button sends; *shop* is the digest of the shop file that it was made on."""
        piece, of_shop = (
            json.dumps([edit.model_dump() for edit in edits]) for edits in (self.writes.piece, self.writes.shop)
        )
        return {"piece": piece, "shop": of_shop, "shop_on": shop}


@dataclass(frozen=True, slots=True)
class DaysView:
    """All that a page says of a timetable."""

    sheet: Sheet | None
    """As it would be printed; None where nothing fits."""
    chance: tuple[str, ...] = ()
    clashes: tuple[str, ...] = ()
    fits: bool = True
    would_help: tuple[Help, ...] = field(default=())
    helped: str = ""
    """What it would be with those."""

    @property
    def wants_shop(self) -> bool:
        """Whether something would help that cannot be written before there is a shop file."""
        return any(way.wants_shop for way in self.would_help)


def days_view(plan: Plan) -> DaysView:
    """Return what is said of the timetable of a plan, which knows it."""
    table = plan.timetable
    if not table.has_plan:
        fits = dict.fromkeys(change for clash in table.clashes for change in clash.would_fit)
        return DaysView(
            None, (), clash_words(table), fits=False, would_help=_helps(tuple(fits), plan), helped="It would fit with"
        )
    late = table.would_be_in_time
    return DaysView(
        sheet_of(plan),
        chance_words(table),
        would_help=_helps(late or table.would_be_sure, plan),
        helped="It would be in time with" if late else "It would be sure enough with",
    )


def _helps(fits: tuple[WouldFit, ...], plan: Plan) -> tuple[Help, ...]:
    return tuple(_help(change, plan) for change in fits)


def _help(fit: WouldFit, plan: Plan) -> Help:
    words = would_fit_words(fit, plan.timetable.working_day_h)
    # Planned together with others: what helps one of them is for whoever planned them.
    if len([piece for piece in plan.pieces if not piece.sample]) != 1:
        return Help(words)
    writes = writes_of(fit, plan)
    if isinstance(writes, str):
        return Help(words, told=(writes,), wants_shop=writes == NO_SHOP)
    return Help(words, writes, writes.words(plan.pieces[0].source.piece_file.document.file.name))
