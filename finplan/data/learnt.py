"""What a shop has learnt by its record."""

from __future__ import annotations

from typing import Literal

from finplan.catalogue import Catalogue
from finplan.data.row import CountFromOne, NotNegative, row, row_of
from finplan.learning import Said
from finplan.ledger import LearntKind
from finplan.quantity import Range
from finplan.record import ShopLearnt
from finplan.telling import aside_words


@row
class SaidRow:
    """Learnt.

    In times what is reckoned by the catalogue: a range is the 5th, 50th and 95th of a hundred.
    """

    prior: Range
    """What is known beforehand, of any shop."""
    data: NotNegative
    """What the notes of this shop say by themselves: the middle one."""
    posterior: Range
    """What is known of this shop now."""
    count: CountFromOne
    """On how many notes that rests: coats that were weighed or found dry, or work that was timed."""


@row
class RateRow:
    """Rate.

    How much of a finish is used.
    """

    finish: str
    """Its name in the catalogue."""
    method: str
    """How it is put on: a name in the catalogue."""
    person: str | None
    """Who puts it on; null where nobody says."""
    bare: bool
    """Whether on bare wood; else over another coat."""
    used: SaidRow
    """In times what is reckoned."""


@row
class PaceRow:
    """Pace.

    How long some work takes.
    """

    work: str
    """The kind of work: a deed of the timetable."""
    person: str | None
    """Who does it; null for what all of them have in common."""
    takes: SaidRow
    """In times what is reckoned."""


@row
class DriesRow:
    """Dries.

    How long a finish dries.
    """

    finish: str
    """Its name in the catalogue."""
    takes: SaidRow
    """In times what is reckoned, in the same air."""


@row
class AsideRow:
    """Set aside.

    A note that is not believed.
    """

    kind: LearntKind
    """Of what it is: an amount, the minutes of some work, or drying."""
    of: str
    """The finish or the kind of work."""
    note: str
    """Which note it is: its day, and what it is of."""
    times: NotNegative
    """What was noted, in times what all else says."""
    why: str
    """As a sentence without its stop."""


@row
class LearntRow:
    """Learnt by a shop."""

    format: Literal["finplan-learnt/1"]
    """Says what this is."""
    amounts: tuple[RateRow, ...]
    """By finish, method and person."""
    minutes: tuple[PaceRow, ...]
    """By kind of work and person."""
    drying: tuple[DriesRow, ...]
    """By finish."""
    set_aside: tuple[AsideRow, ...]
    """What is far beyond all else, and left out."""


def learnt_data(learnt: ShopLearnt, catalogue: Catalogue) -> LearntRow:
    """Return what a shop has learnt."""
    return LearntRow(
        format="finplan-learnt/1",
        amounts=tuple(
            row_of(RateRow, rate, person=rate.person or None, used=_said(rate.said)) for rate in learnt.rates
        ),
        minutes=tuple(
            PaceRow(work=pace.of, person=pace.person or None, takes=_said(pace.said))
            for pace in learnt.paces
            if pace.sort == "minutes"
        ),
        drying=tuple(
            DriesRow(finish=pace.of, takes=_said(pace.said)) for pace in learnt.paces if pace.sort == "drying"
        ),
        set_aside=tuple(
            row_of(AsideRow, set_aside, kind=set_aside.sort, note=set_aside.told, why=aside_words(set_aside, catalogue))
            for set_aside in learnt.aside
        ),
    )


def _said(said: Said) -> SaidRow:
    return row_of(SaidRow, said)
