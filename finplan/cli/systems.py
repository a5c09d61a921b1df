"""The systems side by side for a person."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from statistics import median
from textwrap import wrap

from finplan import nothing
from finplan.cli.table import table
from finplan.costing import Quote
from finplan.moments import show_day
from finplan.planning import Candidate
from finplan.quantity import Units
from finplan.showing import plain, show_mass, show_volume
from finplan.telling import show_estimate, system_risks, why_not_words

_ORDER = {"in time": 0, "no date": 1, "late": 2, "not here": 3, "not on this": 4}
_WIDTH = 110
_COST = (
    "Cost: hours and what is used of the materials, typical, before tax; + where something has no price, which "
    "'finplan quote' names."
)
_HEADING = (
    *("system", "ready", "in time", "days", "coats", "work", "finish", "vapour"),
    *("water", "heat", "wear", "mend"),
)
_DANGERS = {
    "self-heating": "cloths catch fire by themselves",
    "flammable": "vapour burns",
    "isocyanate": "isocyanate",
    "sensitiser": "sensitises",
    "acid": "acid",
    "spraying": "needs a spray booth",
}


def systems_lines(candidates: list[Candidate], units: Units) -> list[str]:
    """Return what fits as a table, the soonest first, what each is like, and the rest with the reason."""
    ranked = sorted(
        candidates,
        key=lambda candidate: (_ORDER[candidate.verdict], candidate.ready.timestamp() if candidate.ready else 0.0),
    )
    fitting = [candidate for candidate in ranked if candidate.days is not None]
    if fitting and not any(candidate.coats for candidate in fitting):
        return [nothing.TO_COAT]
    costs = any(candidate.quote is not None and candidate.quote.net is not None for candidate in fitting)
    lines = [
        *_table(fitting, units, costs=costs),
        "",
        "Ready and days are for work begun at once. Work, finish and vapour (with that of the thinner) are typical.",
        "Water, heat, wear and mending: 1 is poor, 5 is excellent.",
        *([_COST] if costs else []),
        "",
        *(line for candidate in fitting for line in _wrapped(candidate.system, _words(candidate))),
    ]
    unfit = [candidate for candidate in ranked if candidate.days is None]
    if unfit:
        lines += ["", "These do not fit:", ""]
        lines += [
            line
            for candidate in unfit
            for line in _wrapped(candidate.system, why_not_words(candidate) or candidate.verdict)
        ]
    return lines


def _table(fitting: Sequence[Candidate], units: Units, *, costs: bool) -> list[str]:
    """Return a line for each system that fits; what money there is to show has columns of its own.

    Amounts of a column are in one unit, that of the middle one, so that they compare at a glance.
    """
    like_ml = median([candidate.volume_ml.typical for candidate in fitting if candidate.volume_ml] or [0.0])
    like_g = median([candidate.voc_g or 0.0 for candidate in fitting] or [0.0])
    priced = any(candidate.cost is not None for candidate in fitting)
    worth = any(candidate.labour is not None for candidate in fitting)
    rows = [
        [
            *_row(candidate, units, like_ml, like_g),
            *_money(candidate.cost, priced),
            *_labour(candidate, worth),
            *_cost(candidate.quote, costs),
        ]
        for candidate in fitting
    ]
    money = [name for name, shown in (("packs", priced), ("labour", worth), ("cost", costs)) if shown]
    return table([*_HEADING, *money], rows, "lllrrrrrrrrrrrr")


def _wrapped(system: str, words: str) -> list[str]:
    return wrap(f"{system}: {words}", _WIDTH, subsequent_indent="    ", break_on_hyphens=False)


def _row(candidate: Candidate, units: Units, like_ml: float, like_g: float) -> list[str]:
    ready = show_day(candidate.ready.date()) if candidate.ready else ""
    in_time = {"in time": "yes", "late": "no"}.get(candidate.verdict, "")
    ratings = (candidate.ratings.water, candidate.ratings.heat, candidate.ratings.wear, candidate.ratings.repair)
    return [
        candidate.system,
        ready,
        in_time,
        plain(candidate.days or 0.0, 2),
        str(candidate.coats),
        f"{plain(candidate.work_h.typical, 2)} h" if candidate.work_h else "",
        show_volume(candidate.volume_ml.typical, units, like_ml) if candidate.volume_ml else "",
        show_mass(candidate.voc_g or 0.0, units, like_g),
        *(str(rating) for rating in ratings),
    ]


def _money(amount: float | None, shown: bool) -> list[str]:
    """Return the cell of a price, where that column is shown."""
    return [] if not shown else ["not given" if amount is None else plain(amount, 4)]


def _labour(candidate: Candidate, shown: bool) -> list[str]:
    """Return the cell of what the work comes to, in the currency of the shop where it has one."""
    if candidate.labour is None or candidate.quote is None or not candidate.quote.currency:
        return _money(candidate.labour, shown)
    return [show_estimate(Decimal(candidate.labour), candidate.quote.currency)]


def _cost(quote: Quote | None, shown: bool) -> list[str]:
    """Return the cell of what all costs, where that column is shown."""
    if not shown or quote is None or quote.net is None:
        return ["not given"] if shown else []
    return [show_estimate(quote.net.typical, quote.currency) + ("" if quote.complete else " +")]


def _words(candidate: Candidate) -> str:
    mind = ", ".join(words for danger, words in _DANGERS.items() if danger in candidate.dangers)
    risks = "".join(f" Risk: {risk}." for risk in system_risks(candidate))
    return f"{candidate.sheen}. {candidate.use}." + (f" Mind: {mind}." if mind else "") + risks
