"""What a shop has learnt, in words."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.learning import Pace, Rate, Said, SetAside
from finplan.listing import number_of
from finplan.showing import capital, plain
from finplan.spans import show_span
from finplan.telling.work_names import work_name

NOTHING_LEARNT = (
    "Nothing is learnt yet: tick coats with what the can lost (--can) or what was used (--used), work with how long it "
    "took (--took), and coats when they are found dry (--dry)."
)
TIMES_RECKONED = "in times what is reckoned by the catalogue: 5 to 95 of a hundred shops beforehand, and this shop now"


def rate_words(rate: Rate, catalogue: Catalogue) -> str:
    """Return whose amounts of what they are."""
    on = "on bare wood" if rate.bare else "over another coat"
    by = f", by {rate.person}" if rate.person else ""
    return f"{catalogue.finishes[rate.finish].title} {on}{by} ({catalogue.methods[rate.method].title.lower()})"


def pace_words(pace: Pace, catalogue: Catalogue) -> str:
    """Return whose times of what they are."""
    if pace.sort == "drying":
        return f"{catalogue.finishes[pace.of].title}, drying"
    return f"{capital(work_name(pace.of))}, {pace.person or 'all together'}"


def noted_words(said: Said, sort: str) -> str:
    """Return how many notes it rests on.

    >>> from finplan.quantity import Range
    >>> one = Range(0.9, 1.0, 1.1)
    >>> noted_words(Said(one, 1.0, one, 4), "amount")
    '4 coats'
    """
    return number_of(said.count, "coat" if sort in ("amount", "drying") else "time")


def span_words(said: Said) -> tuple[str, str, str]:
    """Return what was known beforehand, what the notes say by themselves, and what is known now.

    >>> from finplan.quantity import Range
    >>> span_words(Said(Range(0.77, 1.0, 1.3), 1.253, Range(1.02, 1.2, 1.41), 4))
    ('0.77–1.3', '1.25', '1.2 (1.02–1.41)')
    """
    before, now = (
        show_span(plain(range_.low), plain(range_.high)).replace(" – ", "–") for range_ in (said.prior, said.posterior)
    )
    return before, plain(said.data), f"{plain(said.posterior.typical)} ({now})"


def aside_words(aside: SetAside, catalogue: Catalogue) -> str:
    """Return what was set aside and why, as a sentence."""
    of = catalogue.finishes[aside.of].title if aside.sort != "minutes" else work_name(aside.of)
    what = {"amount": "what was used of", "minutes": "how long it took:", "drying": "when it was dry:"}[aside.sort]
    most = plain(catalogue.learning["shop"].outlier_deviations)
    return (
        f"{aside.told}: {what} {of} is {plain(aside.times, 2)} times what all else says, more than {most} standard "
        "deviations off: taken for a slip"
    )
