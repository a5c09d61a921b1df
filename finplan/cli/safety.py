"""The safety of a plan for a person: the air of each session, what falls due, and the cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import get_args

from finplan import nothing
from finplan.catalogue import Catalogue, Moment
from finplan.cli.table import table
from finplan.moments import show_moment
from finplan.quantity import Range, Units
from finplan.safety import DustReport, Gear, Precautions, Reckoning, Safety, Session, SessionReport
from finplan.showing import capital, plain, show_air, show_duration, show_flow, show_mass, show_of_limit, show_share
from finplan.telling import BASIS, PURPOSES, cured_words, piece_words, short_title, verdict_words

_WIDTH = 100


def safety_lines(safety: Safety, precautions: Precautions, catalogue: Catalogue, units: Units) -> list[str]:
    """Return everything as lines: first what comes before it all, then sessions, cloths, dust, rules and cautions."""
    cautions = precautions.cautions
    lines = _wrapped(cautions[0].comes_first)
    for number, one in enumerate(safety.sessions, 1):
        lines += ["", *_wrapped(f"Session {number}: {', '.join(one.labels)}"), *_session(one, catalogue, units)]
    if safety.to_measure:
        lines += ["", *_wrapped(safety.to_measure)]
    lines += ["", *_wrapped(BASIS if safety.sessions else nothing.VAPOUR)]
    lines += _due(safety, precautions)
    lines += _gear(precautions.gear)
    lines += ["", *_dust(safety.dust, units), *_voc(safety), *_contact(safety)]
    for when in get_args(Moment):
        found = [line for line in cautions if line.when == when]
        if found:
            lines += ["", capital(when)]
        for line in found:
            lines += _wrapped(f"{line.title}. {line.text}", "  - ")
            because = f" Here because of: {', '.join(line.because)}." if line.because else ""
            source = catalogue.sources[line.source].title
            lines += _wrapped(f"Why: {line.reason}{because} Source: {source}.", "    ")
    return lines


def _session(one: SessionReport, catalogue: Catalogue, units: Units) -> list[str]:
    session = one.session
    mass_g = Range.total(session.vapours.values())
    gives = "not known" if session.fan_on is None else show_flow(session.fan_on.flow_m3_h, units)
    where = f"{session.room}, from {show_moment(one.start)}" if one.start else session.room
    rows = [
        ["where", where],
        ["vapour", f"{_grams(mass_g, units)} of {_named(one, catalogue)}"],
        ["the room gives", gives],
        *_reckoned(_with(session), session.fan_on),
        *_reckoned("without the fan", session.fan_off),
    ]
    lines = [f"  {name + ':' if name else '':<18}{value}" for name, value in rows]
    lines += _wrapped(f"{verdict_words(session)}.", "  ")
    for condition in one.conditions:
        lines += _wrapped(condition.text, "  [ ] ")
    for remedy in one.remedies:
        lines += _wrapped(remedy, "  - ")
    lines += _wrapped(_airing(one), "  ")
    for row in one.too_early:
        lines += _wrapped(
            f"Mind: {row.item}, {row.step} on {show_moment(row.start)} comes before the air is fit.", "  "
        )
    return lines


def _with(session: Session) -> str:
    if session.in_booth:
        return "in the booth"
    return "with the fan" if session.air.fan_m3_h else "it holds"


def _reckoned(lead: str, found: Reckoning | None) -> Iterator[list[str]]:
    """Give what the air holds at one flow: of what may be breathed, and of what burns."""
    if found is None:
        return
    typical, high = found.typical, found.high
    if typical.breathing is None or high.breathing is None:
        yield [lead, "not known against what may be breathed"]
    else:
        yield [
            lead,
            f"{show_of_limit(typical.breathing, 'what may be breathed')} as it usually goes, "
            f"{show_share(high.breathing)} at the most",
        ]
    yield ["", f"{show_of_limit(high.fire, 'what burns')} at the worst moment near the work"]


def _airing(one: SessionReport) -> str:
    told = []
    for fit in one.fit_again:
        if fit.hours is None:
            when = "for how long cannot be said"
        elif fit.at is not None:
            when = f"until {show_moment(fit.at)}"
        else:
            when = f"for {show_duration(fit.hours)} once the last coat is on"
        told.append(f"{PURPOSES[fit.purpose]} {when}")
    what = "fan on" if one.session.rests_on_fan else "air coming"
    return f"Keep the {what}, also overnight: {'; '.join(told)}."


def _named(one: SessionReport, catalogue: Catalogue) -> str:
    names = sorted(one.session.vapours, key=lambda name: -one.session.vapours[name].high)
    titles = [
        short_title(catalogue.solvents[name].title).lower() if name in catalogue.solvents else "a solvent unknown"
        for name in names
    ]
    return ", ".join(titles)


def _grams(mass_g: Range, units: Units) -> str:
    low, typical, high = (show_mass(value, units) for value in (mass_g.low, mass_g.typical, mass_g.high))
    return f"{typical} ({low} to {high})"


def _gear(gear: Gear) -> list[str]:
    """Return what is had in the shop and what is bought for safety."""
    lines: list[str] = []
    if gear.have:
        rows = [[one.title, str(one.count), ", ".join(one.people)] for one in gear.have]
        lines += ["", "Have in the shop", *(f"  {line}" for line in table(["what", "pieces", "worn by"], rows, "lrl"))]
    if gear.buy:
        bought = [[one.title, str(one.at_confidence), piece_words(one)] for one in gear.buy]
        lines += ["", "Buy", *(f"  {line}" for line in table(["what", "needed", "packs"], bought, "lrr"))]
    return lines


def _due(safety: Safety, precautions: Precautions) -> list[str]:
    lines: list[str] = []
    if precautions.ticks:
        lines += ["", "To tick when it falls due"]
    for tick in precautions.ticks:
        lines += _wrapped(f"{show_moment(tick.due)}: {tick.text}", "  [ ] ")
    for use in safety.cartridges:
        lines += _wrapped(
            f"{use.person} wears a mask against vapour for {show_duration(use.worn_h)}; cartridges last "
            f"{show_duration(use.life_h.low)} to {show_duration(use.life_h.high)} (trade practice); the shortest "
            "counts.",
            "  ",
        )
    return lines


def _dust(dust: DustReport, units: Units) -> list[str]:
    room = "" if dust.volume_m3 is None or dust.room is None else f" of {dust.room} ({show_air(dust.volume_m3, units)})"
    lines = _wrapped(
        f"Sanding dust: {_grams(dust.dust_g, units)}. Extractor of {dust.extractor.lower()[:-1]}{dust.extractor[-1]} "
        f"(lets through {dust.passes_pct:g} % at most)."
    )
    for line in dust.limits:
        hangs = (
            f": no more than {plain(line.in_the_air_g * 1000, 2)} mg may hang in the air{room} at once"
            if line.in_the_air_g is not None
            else ""
        )
        lines += _wrapped(f"{line.jurisdiction}: {line.limit_mg_m3:g} mg/m³{hangs}.", "  ")
    if dust.volume_m3 is None:
        lines += _wrapped("How large the bench room is the shop file does not say (`volume`).", "  ")
    return lines


def _voc(safety: Safety) -> Iterator[str]:
    if not safety.voc:
        return
    yield ""
    yield "Limits of organic vapour in a litre ready to use, for information"
    rows = [
        [
            line.finish,
            line.title,
            f"{line.limit_g_l:g} g/L",
            f"{plain(line.voc_g_l.low)} to {plain(line.voc_g_l.high)}",
            line.standing,
        ]
        for line in safety.voc
    ]
    yield from (f"  {line}" for line in table(["finish", "rule", "limit", "holds", "this type is"], rows, "llrll"))


def _contact(safety: Safety) -> Iterator[str]:
    for line in safety.contact:
        when = f" {capital(cured_words(line.cured))}." if line.cured else ""
        yield from ["", *_wrapped(f"{line.item}, contact with {_WHOM[line.contact]}. {line.text}{when}")]


_WHOM = {"food": "food", "child": "children"}


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent))
