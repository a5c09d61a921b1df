"""Records of the catalogue for a person, each value with what it rests on."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from finplan.catalogue import (
    Amount,
    CannotOccur,
    Catalogue,
    FaultAnswer,
    LikelyCause,
    MixComponent,
    Pack,
    PiecePack,
    RepairStep,
    Sourced,
    SourceRecord,
    Step,
)
from finplan.lookup.readiness import ready_h
from finplan.lookup.record_data import APART, fields_held
from finplan.quantity import Range, Units
from finplan.reading import Span
from finplan.showing import (
    plain,
    show_air,
    show_duration,
    show_length,
    show_mass,
    show_pack,
    show_spread_rate,
    show_temperature,
    show_volume,
)

WIDTH = 110
"""Characters in a line, where there are words to break."""

_M2_PER_FT2 = 0.3048**2
_ONE_BY_ONE = ("steps", "care", "causes", "answers", "cannot")
"""Lists whose members each take a line."""

_SHOWN: dict[str, Callable[[float, Units], str]] = {
    "_m2_l": show_spread_rate,
    "_m2_h": lambda value, units: (
        f"{plain(value)} m²/h" if units == "metric" else f"{plain(value / _M2_PER_FT2)} ft²/h"
    ),
    "_per_m2": lambda value, units: (
        f"{plain(value, 2)} per m²" if units == "metric" else f"{plain(value * _M2_PER_FT2, 2)} per ft²"
    ),
    "_g_min": lambda value, _units: f"{plain(value)} g/min",
    "_g_l": lambda value, _units: f"{plain(value)} g/L",
    "_g_mol": lambda value, _units: f"{plain(value, 5)} g/mol",
    "_mg_m3": lambda value, _units: f"{plain(value)} mg/m³",
    "_kpa": lambda value, _units: f"{plain(value)} kPa",
    "_ppm": lambda value, _units: f"{plain(value)} ppm",
    "_pct": lambda value, _units: f"{plain(value)} %",
    "_um": lambda value, _units: f"{plain(value, 4)} µm",
    "_mm": show_length,
    "_ml": show_volume,
    "_m3": show_air,
    "_g": show_mass,
    "_c": show_temperature,
    "_h": lambda value, _units: show_duration(value),
}
"""How a number is written, by the unit at the end of its field's name; the longer ends stand first."""


def record_lines(kind: str, name: str, record: Any, catalogue: Catalogue, units: Units) -> list[str]:
    """Return a record as aligned lines, the source of each value behind it and the sources in full at the foot.

    Parameters
    ----------
    kind
        The kind as its file is named: ``finishes``
    name
        The name of the record in that file
    record
        The record itself
    catalogue
        Where its sources are looked up
    units
        Those of the person who reads it
    """
    lines = [f"{name} ({kind}): {record.title}", ""]
    rows = list(_rows(record, units))
    label_width = max(len(label) for label, _, _ in rows)
    for label, text, path in rows:
        source = f"  [{record.source_of(path)}]" if isinstance(record, Sourced) else ""
        lines += _wrapped(f"  {label:<{label_width}}  ", text + source)
    if not isinstance(record, Sourced):
        return lines
    for note in record.notes:
        lines += _wrapped(f"  {'note':<{label_width}}  ", note)
    return [*lines, "", "Sources", *_source_lines(record, catalogue)]


def listing_lines(records: Mapping[str, Mapping[str, Any]], catalogue: Catalogue, *, ready: bool = False) -> list[str]:
    """Return the names of the *records* under their kinds, with their titles, and when they are ready where asked."""
    lines: list[str] = []
    for kind, named in records.items():
        width = max((len(name) for name in named), default=0)
        lines += ["", kind] if lines else [kind]
        for name, record in named.items():
            after = ready_h(record, catalogue) if ready else None
            when = f", ready in {_text('ready_h', after, 'metric')}" if after else ""
            lines.append(f"  {name:<{width}}  {record.title}{when}")
        if not named:
            lines.append("  none")
    return lines


def _rows(
    record: BaseModel, units: Units, group: str = "", path: tuple[str, ...] = ()
) -> Iterator[tuple[str, str, str]]:
    """Yield label, text and path of every value, those in a group one by one."""
    for field, value in fields_held(record).items():
        name = type(record).model_fields[field].alias or field
        if value is None or value == () or (not path and field in APART):
            continue
        label = f"{group}{name.replace('-', ' ')}"
        here = (*path, name)
        if isinstance(value, BaseModel):
            yield from _rows(value, units, f"{label}, ", here)
        elif isinstance(value, Mapping):
            for key, one in value.items():
                yield f"{label}, {key}", _text(field, one, units), ".".join((*here, key))
        elif field in _ONE_BY_ONE:
            for number, one in enumerate(value, 1):
                yield f"{label.removesuffix('s')} {number}", _text(field, one, units), ".".join(here)
        else:
            yield label, _text(field, value, units), ".".join(here)


def _text(field: str, value: Any, units: Units) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Range):
        return _range(*(_number(field, one, units) for one in (value.low, value.typical, value.high)))
    if isinstance(value, Span):
        return f"{_number(field, value.low, units)} to {_number(field, value.high, units)}"
    if isinstance(value, (int, float)):
        return _number(field, value, units)
    if isinstance(value, tuple):
        return ", ".join(_text(field, one, units) for one in value)
    if isinstance(value, Amount):
        return show_pack(value.value, units) if value.measure == "ml" else show_mass(value.value, units)
    if isinstance(value, Pack):
        size = " + ".join(_text(field, part, units) for part in value.parts or (value.holds,))
        return size + (f" at {value.price:.2f}" if value.price is not None else "")
    if isinstance(value, PiecePack):
        return f"{value.count}" + (f" at {value.price:.2f}" if value.price is not None else "")
    if isinstance(value, Step):
        return _step(value)
    if isinstance(value, (LikelyCause, CannotOccur, FaultAnswer, RepairStep)):
        return _of_fault(value, units)
    if isinstance(value, MixComponent):
        return f"{plain(value.parts)} {value.name}"
    return str(value)


def _number(field: str, value: float, units: Units) -> str:
    shown = next((show for end, show in _SHOWN.items() if field.endswith(end)), None)
    return shown(value, units) if shown else plain(value, 4)


def _range(low: str, typical: str, high: str) -> str:
    """Return the typical value with its spread, the unit once where all three have the same.

    >>> _range("15 m²/L", "22 m²/L", "30 m²/L"), _range("30 min", "1 h", "3 h"), _range("7 h", "7 h", "7 h")
    ('22 (15 to 30) m²/L', '1 h (30 min to 3 h)', '7 h')
    """
    if low == high:
        return typical
    parts = [re.fullmatch(r"(\S+) ((?:per )?\S+)", text) for text in (low, typical, high)]
    if all(parts) and len({part.group(2) for part in parts if part}) == 1:
        numbers = [part.group(1) for part in parts if part]
        return f"{numbers[1]} ({numbers[0]} to {numbers[2]}) {typical.partition(' ')[2]}"
    return f"{typical} ({low} to {high})"


def _step(step: Step) -> str:
    words: list[str] = [step.do]
    if step.finish:
        words.append(step.finish)
    if step.grit:
        words.append(step.grit)
    if step.thin_pct:
        words.append(f"thinned {plain(step.thin_pct)} %")
    if step.dry_film_um is not None:
        words.append(f"{_text('dry_film_um', step.dry_film_um, 'metric')} dry")
    text = " ".join(words)
    if step.methods:
        text += f" by {' or '.join(step.methods)}"
    return f"{text}; {step.note}" if step.note else text


def _of_fault(value: LikelyCause | CannotOccur | FaultAnswer | RepairStep, units: Units) -> str:
    if isinstance(value, RepairStep):
        words = " ".join(filter(None, (value.do, value.grit, value.solvent and f"with {value.solvent}")))
        where = "the whole item" if value.on == "item" else "the place"
        only = {"always": "", "last": " of a last coat", "not-last": " before another coat"}[value.only]
        wait = "" if value.wait_h is None else f", then wait {_text('wait_h', value.wait_h, units)}"
        return f"{words} ({where}{only}{wait})"
    of = ", ".join(value.finishes)
    if isinstance(value, LikelyCause):
        return f"{value.cause}, {value.likely} of 5" + ("" if of == "any" else f", in {of}")
    if isinstance(value, CannotOccur):
        return f"{of}: {value.because}"
    thick = f" {plain(value.times_as_thick)} times as thick" if value.times_as_thick > 1 else ""
    steps = "; ".join(_of_fault(step, units) for step in value.steps)
    return f"{of}: {value.now} Until {value.until}{thick}: {value.do} Steps: {steps}"


def _source_lines(record: Sourced, catalogue: Catalogue) -> list[str]:
    keys = sorted(record.source_keys())
    width = max(len(key) for key in keys)
    lines: list[str] = []
    for key in keys:
        lines += _wrapped(f"  [{key}]{' ' * (width - len(key))}  ", _source(catalogue.sources[key]))
    return lines


def _source(source: SourceRecord) -> str:
    text = source.title + (f", {source.section}" if source.section else "")
    if source.rests == "published":
        return f"{text} (published, {'seen in print' if source.verified else 'as quoted elsewhere'})"
    return f"{text} ({source.rests})"


def _wrapped(head: str, text: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=head,
        subsequent_indent=" " * len(head),
        break_on_hyphens=False,
        break_long_words=False,
    )
