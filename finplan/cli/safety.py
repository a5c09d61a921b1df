"""The safety of a plan for a person: the air of each session, what falls due, and the cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from finplan import nothing
from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.listing import some
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.safety import Gear, Safety, SessionReport
from finplan.telling import (
    BASIS,
    Names,
    air_remedy_words,
    aired_words,
    because_words,
    cartridge_words,
    caution_source,
    cautions_by_moment,
    condition_words,
    contact_words,
    dust_words,
    duty_words,
    gives_words,
    piece_words,
    reckoned_words,
    session_words,
    short_title,
    to_measure_words,
    too_early_words,
    vapour_words,
    verdict_words,
    voc_held,
    voc_limit,
)

_WIDTH = 100


def safety_lines(plan: Plan) -> list[str]:
    """Return everything as lines: first what comes before it all, then sessions, cloths, dust, rules and cautions."""
    safety, names = plan.safety, Names(plan)
    lines = _wrapped(plan.cautions[0].comes_first)
    for number, report in enumerate(safety.sessions, 1):
        lines += [
            "",
            *_wrapped(f"Session {number}: {some(session_words(report, names, plan))}"),
            *_session(report, names, plan),
        ]
    measure = to_measure_words(plan.safety.to_measure, plan.units)
    if measure:
        lines += ["", *_wrapped(measure)]
    lines += ["", *_wrapped(BASIS if safety.sessions else nothing.VAPOUR)]
    lines += _due(plan)
    lines += _gear(plan.precautions.gear)
    lines += ["", *(line for words in dust_words(safety.dust, plan.units) for line in _wrapped(words)), *_voc(safety)]
    lines += [line for words in contact_words(plan) for line in ("", *_wrapped(words))]
    for heading, cautions in cautions_by_moment(plan):
        lines += ["", heading]
        for caution in cautions:
            lines += _wrapped(f"{caution.title}. {caution.text}", "  - ")
            because = f" Here because of: {', '.join(because_words(caution))}." if caution.because else ""
            source = caution_source(plan, caution)
            lines += _wrapped(f"Why: {caution.reason}{because} Source: {source}.", "    ")
    return lines


def _session(report: SessionReport, names: Names, plan: Plan) -> list[str]:
    session, units = report.session, plan.units
    where = f"{session.room}, from {show_moment(report.start)}" if report.start else session.room
    rows = [
        ("where", where),
        ("vapour", f"{vapour_words(session, units)} of {_named(report, plan.catalogue)}"),
        ("the room gives", gives_words(session, units)),
    ]
    lines = [f"  {f'{name}:':<18}{value}" for name, value in rows]
    lines += _wrapped(reckoned_words(session), "  ")
    lines += _wrapped(f"{verdict_words(session)}.", "  ")
    for condition in report.conditions:
        lines += _wrapped(condition_words(condition, session, plan), "  [ ] ")
    for remedy in air_remedy_words(report.remedies, plan.catalogue, plan.units):
        lines += _wrapped(remedy, "  - ")
    lines += _wrapped(_airing(report), "  ")
    for early in report.too_early:
        lines += _wrapped(f"Mind: {too_early_words(early.row, names)}", "  ")
    return lines


def _airing(report: SessionReport) -> str:
    moving = "fan on" if report.session.rests_on_fan else "air coming"
    return f"Keep the {moving}, also overnight: {'; '.join(aired_words(report))}."


def _named(report: SessionReport, catalogue: Catalogue) -> str:
    names = sorted(report.session.vapours, key=lambda name: -report.session.vapours[name].high)
    titles = [
        short_title(catalogue.solvents[name].title).lower() if name in catalogue.solvents else "a solvent unknown"
        for name in names
    ]
    return ", ".join(titles)


def _gear(gear: Gear) -> list[str]:
    """Return what is had in the shop and what is bought for safety."""
    lines: list[str] = []
    if gear.have:
        rows = [[item.title, str(item.count), ", ".join(item.people)] for item in gear.have]
        lines += ["", "Have in the shop", *(f"  {line}" for line in table(["what", "pieces", "worn by"], rows, "lrl"))]
    if gear.buy:
        bought = [[need.title, str(need.at_confidence), piece_words(need)] for need in gear.buy]
        lines += ["", "Buy", *(f"  {line}" for line in table(["what", "needed", "packs"], bought, "lrr"))]
    return lines


def _due(plan: Plan) -> list[str]:
    lines: list[str] = []
    ticks = plan.precautions.ticks
    if ticks:
        lines += ["", "To tick when it falls due"]
    for tick in ticks:
        lines += _wrapped(f"{show_moment(tick.due)}: {duty_words(tick, plan)}", "  [ ] ")
    words = cartridge_words(plan.precautions)
    return [*lines, *(_wrapped(words, "  ") if words else [])]


def _voc(safety: Safety) -> Iterator[str]:
    if not safety.voc:
        return
    yield ""
    yield "Limits of organic vapour in a litre ready to use, for information"
    rows = [
        [
            line.finish,
            line.title,
            voc_limit(line),
            voc_held(line),
            line.standing,
        ]
        for line in safety.voc
    ]
    yield from (f"  {line}" for line in table(["finish", "rule", "limit", "holds", "this type is"], rows, "llrll"))


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent))
