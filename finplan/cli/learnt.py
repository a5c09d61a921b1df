"""What a shop has learnt, for a person."""

from __future__ import annotations

from textwrap import wrap

from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.record import ShopLearnt
from finplan.telling import (
    NOTHING_LEARNT,
    TIMES_RECKONED,
    aside_words,
    noted_words,
    pace_words,
    rate_words,
    span_words,
)

_WIDTH = 100


def learnt_lines(learnt: ShopLearnt, catalogue: Catalogue) -> list[str]:
    """Return what was known beforehand, what was noted, and what is known now."""
    amounts = [
        [rate_words(rate, catalogue), noted_words(rate.said, "amount"), *span_words(rate.said)] for rate in learnt.rates
    ]
    times = [
        [pace_words(pace, catalogue), noted_words(pace.said, pace.sort), *span_words(pace.said)]
        for pace in learnt.paces
    ]
    lines = [*_table("How much is used", amounts), *_table("How long it takes", times)]
    if learnt.aside:
        told = [
            wrap(f"{aside_words(set_aside, catalogue)}.", _WIDTH, subsequent_indent="  ") for set_aside in learnt.aside
        ]
        lines += ["Set aside", "", *(line for words in told for line in words), ""]
    return lines[:-1] if lines else wrap(NOTHING_LEARNT, _WIDTH)


def _table(title: str, rows: list[list[str]]) -> list[str]:
    if not rows:
        return []
    heading = ["what", "noted", "beforehand", "notes say", "known now"]
    return [*wrap(f"{title}, {TIMES_RECKONED}", _WIDTH), "", *table(heading, rows, "lrrrr"), ""]
