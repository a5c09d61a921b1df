"""What forms of the bench send, as what would be typed beside a tick."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from finplan.bench import Noted
from finplan.page.jobs import Seen
from finplan.problems import NotPossibleError, shown
from finplan.quantity import Units

_MOST = 300
"""Letters of one answer."""
_WEIGHTS = {"metric": "g", "us": "oz"}
_DEGREES = {"metric": "degC", "us": "degF"}


def noted_of(sent: Mapping[str, str], units: Units) -> Noted:
    """Return what is told beside a tick: a bare number is in the unit that stands behind its field.

    >>> noted = noted_of({"used": "85", "unit": "ml", "before": "812", "after": "", "at": "2027-02-10T08:40"}, "metric")
    >>> noted.used, noted.can, noted.at
    ('85 ml', "812 g -> ''", '2027-02-10 08:40')
    """
    used, before, after = (_answer(sent, name) for name in ("used", "before", "after"))
    can = None
    if before or after:
        can = f"{_with_unit(before, _WEIGHTS[units])} -> {_with_unit(after, _WEIGHTS[units])}"
    degrees, humidity = _answer(sent, "temperature"), _answer(sent, "humidity")
    air = " ".join(filter(None, (_if_there(degrees, _DEGREES[units]), _if_there(humidity, "%"))))
    at = _answer(sent, "at").replace("T", " ")
    return Noted(
        at=at or None,
        used=_with_unit(used, _answer(sent, "unit") or "ml") if used else None,
        can=can,
        took=_with_unit(_answer(sent, "took"), "min") if _answer(sent, "took") else None,
        air=air or None,
        by=_answer(sent, "by") or None,
        note=_answer(sent, "note") or None,
        result=_answer(sent, "result") or None,
    )


def seen_of(sent: Mapping[str, str]) -> Seen:
    """Return what a form was made from.

    Raises
    ------
    NotPossibleError
        It does not say.
    """
    plan, entry = sent.get("plan", ""), sent.get("seen", "")
    if not all(number.isascii() and number.isdigit() and len(number) < 12 for number in (plan, entry)):
        msg = "this form does not say what it was made from; reload the page"
        raise NotPossibleError(msg)
    return Seen(int(plan), int(entry))


def air_sent(sent: Mapping[str, str], units: Units) -> tuple[str, ...]:
    """Return what is told of the air when the rest is planned again: one reading, or none."""
    told = noted_of({name: sent.get(name, "") for name in ("temperature", "humidity")}, units).air
    return () if told is None else (told,)


def day_of(text: str | None) -> date | None:
    """Return the day that an address asks for; None where it asks for none.

    Raises
    ------
    NotPossibleError
        It is no day.
    """
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        msg = f"{shown(text)} is no day; expected one such as 2027-02-10"
        raise NotPossibleError(msg) from None


def _answer(sent: Mapping[str, str], name: str) -> str:
    text = " ".join(sent.get(name, "").split())
    if len(text) > _MOST:
        msg = f"{name}: {shown(text)} is longer than {_MOST} letters"
        raise NotPossibleError(msg)
    return text


def _with_unit(text: str, unit: str) -> str:
    if not text:
        return "''"
    number = text.replace(",", ".")
    return f"{number} {unit}" if re.fullmatch(r"[-−]?[\d.]+", number) else text


def _if_there(text: str, unit: str) -> str:
    return _with_unit(text, unit) if text else ""
