"""What is done about the air of several sessions, what is alike said once, with the sessions that it is said of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from typing import get_args

from finplan.catalogue import Catalogue
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.safety import AirRemedy, DrawMore, NoFanDoes, SessionReport, WearMask
from finplan.telling.air_remedies import air_remedy_words
from finplan.telling.conditions import condition_words
from finplan.telling.names import Names
from finplan.telling.session_air import too_early_words
from finplan.telling.sets import numbers_words
from finplan.telling.vapour import verdict_words

_WORST: dict[type[AirRemedy], str] = {
    DrawMore: "whole_m3_h",
    NoFanDoes: "whole_m3_h",
    WearMask: "breathing",
}
"""Of remedies with figures that differ from session to session the one that the worst goes by."""
_FIGURES = {"more_m3_h", "whole_m3_h", "air_changes", "breathing"}


@dataclass(frozen=True, slots=True)
class OfSessions:
    """Words that hold for some sessions."""

    sessions: str
    """Their numbers; empty where they are all of the pool."""
    words: str


@dataclass(frozen=True, slots=True)
class AirPool:
    """Sessions in one room of which the same is reckoned, and what is done about them."""

    sessions: str
    verdict: str
    remedies: tuple[OfSessions, ...]
    """Of those with figures the worst session's."""
    conditions: tuple[OfSessions, ...]
    """What is ticked before the tin is opened."""


def pooled_air(plan: Plan) -> tuple[AirPool, ...]:
    """Return what is done about the air of the sessions of a plan; those where nothing is have no pool."""
    pools: dict[tuple[str, str], dict[int, SessionReport]] = {}
    for number, report in enumerate(plan.safety.sessions, 1):
        if report.remedies or report.conditions or report.too_early:
            key = (verdict_words(report.session), report.session.room)
            pools.setdefault(key, {})[number] = report
    return tuple(_pool(verdict, reports, plan) for (verdict, _), reports in pools.items())


def _pool(verdict: str, reports: dict[int, SessionReport], plan: Plan) -> AirPool:
    names = Names(plan)
    conditions = (
        (number, condition_words(condition, report.session, plan))
        for number, report in reports.items()
        for condition in report.conditions
    )
    early = ("", *(too_early_words(sanded.row, names) for report in reports.values() for sanded in report.too_early))
    return AirPool(
        sessions=numbers_words(list(reports)),
        verdict=verdict,
        remedies=(
            *_remedies(reports, plan.catalogue, plan.units),
            *(OfSessions("", words) for words in early if words),
        ),
        conditions=_by_words(conditions, len(reports)),
    )


def _remedies(reports: dict[int, SessionReport], catalogue: Catalogue, units: Units) -> Sequence[OfSessions]:
    alike: dict[object, dict[int, AirRemedy]] = {}
    for number, report in reports.items():
        for remedy in report.remedies:
            alike.setdefault(_kind(remedy), {})[number] = remedy
    told: list[OfSessions] = []
    order = get_args(AirRemedy)
    for remedies in sorted(alike.values(), key=lambda of_kind: order.index(type(next(iter(of_kind.values()))))):
        worst = max(remedies.values(), key=_badness)
        which = "" if len(remedies) == len(reports) else numbers_words(list(remedies))
        at_worst = "At the worst: " if len({_badness(remedy) for remedy in remedies.values()}) > 1 else ""
        told.append(OfSessions(which, at_worst + " ".join(air_remedy_words([worst], catalogue, units))))
    return told


def _kind(remedy: AirRemedy) -> object:
    """Return what is alike of remedies that are said once: all but their figures."""
    said = (getattr(remedy, field.name) for field in fields(remedy) if field.name not in _FIGURES)
    return (type(remedy), *said)


def _badness(remedy: AirRemedy) -> float:
    name = _WORST.get(type(remedy))
    return 0.0 if name is None else float(getattr(remedy, name))


def _by_words(told: Iterable[tuple[int, str]], of_all: int) -> tuple[OfSessions, ...]:
    by_words: dict[str, dict[int, None]] = {}
    for number, words in told:
        by_words.setdefault(words, {})[number] = None
    return tuple(
        OfSessions("" if len(sessions) == of_all else numbers_words(list(sessions)), words)
        for words, sessions in by_words.items()
    )
