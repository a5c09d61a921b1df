"""What each row of work asks for: what is ready before it, worn in it, minded in it, and ticked after it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from finplan.catalogue import Catalogue, Caution
from finplan.safety.cautions import CautionLine
from finplan.safety.circumstances import Circumstance
from finplan.safety.duty import CautionDue, Duty, ExtraDone
from finplan.safety.fetched import Fetched
from finplan.safety.report import SessionReport
from finplan.timetable import TimetableStep

_WET = ("coat", "fill", "clean-up")


@dataclass(frozen=True, slots=True)
class RowCare:
    """What a row of the timetable asks for, whatever the number of its stretches."""

    row: str
    person: str
    codes: tuple[str, ...]
    """Of the cautions that apply in it, the worst first."""
    uses: tuple[str, ...]
    """Consumables, by name, what another does for left out."""
    needs: tuple[str, ...]
    """Equipment, likewise."""
    opens: bool
    """Whether it begins something; else a person goes straight on with the same, and nothing is ticked before it."""
    sessions: tuple[SessionReport, ...]
    """What is reckoned of the air, where something is put on or cleaned."""
    air_enough: bool
    """Whether that says that it is enough."""
    fit_from: datetime | None = None
    """From when on the air of its room is fit to sand in, where it sands there sooner."""
    lit_from: datetime | None = None
    """From when on something hot may be there, where it heats something sooner."""
    fetched: Fetched | None = None
    """Where what it works on stands, while nobody else comes in there."""


def row_care(
    rows: Sequence[TimetableStep],
    circumstances: Sequence[Circumstance],
    lines: Sequence[CautionLine],
    sessions: Sequence[SessionReport],
    fit_from: Mapping[str, datetime],
    lit_from: Mapping[str, datetime],
    fetches: Mapping[str, Fetched],
    catalogue: Catalogue,
) -> dict[str, RowCare]:
    """Return what rows ask for by their ids; those that ask for nothing are left out.

    Parameters
    ----------
    rows
        Of the timetable, in order of time
    circumstances, lines
        What is there in which rows, and the cautions that speak of it
    sessions
        What is reckoned of the air
    fit_from
        From when on it is fit to sand in, by the ids of the rows that sand in it sooner
    lit_from
        From when on something hot may be there, by the ids of the rows that heat something sooner
    fetches
        What is fetched out of a room that nobody else comes into, by the ids of the rows that work on it
    catalogue
        Where the records are
    """
    reports: dict[str, list[SessionReport]] = {}
    for report in sessions:
        for step in report.steps:
            reports.setdefault(step, []).append(report)
    opened = opening(rows)
    asked: dict[str, RowCare] = {}
    for row in rows:
        here = [line.code for line in lines if row.id in line.rows]
        if row.kind == "attended" and row.id not in asked and (here or row.id in fetches):
            of_air = reports.get(row.id, [])
            masks = [
                circumstance.mask
                for circumstance in circumstances
                if circumstance.mask is not None and row.id in circumstance.rows
            ]
            records = [catalogue.cautions[code] for code in here]
            uses, needs = _without_what_is_spared(records, masks, catalogue)
            asked[row.id] = RowCare(
                row=row.id,
                person=row.person or "",
                codes=tuple(here),
                uses=uses,
                needs=needs,
                opens=row.id in opened,
                sessions=tuple(of_air),
                air_enough=all(coating.session.verdict == "enough" for coating in of_air),
                fit_from=fit_from.get(row.id),
                lit_from=lit_from.get(row.id),
                fetched=fetches.get(row.id),
            )
    return asked


def opening(rows: Sequence[TimetableStep]) -> frozenset[str]:
    """Return the ids of the rows that begin something: not those in which a person goes straight on with the same.

    Wet work goes straight on with what was opened for the row before, and abrading and sanding with what is on.
    """
    last: dict[str, TimetableStep] = {}
    opened: dict[str, None] = {}
    seen: set[tuple[str, str | None]] = set()
    for row in (row for row in rows if row.kind == "attended"):
        before = last.get(row.person or "")
        goes_on = before is not None and before.end == row.start and _alike(before, row)
        if (row.id, row.person) not in seen and not goes_on:
            opened[row.id] = None
        seen.add((row.id, row.person))
        last[row.person or ""] = row
    return frozenset(opened)


def with_helpers(rows: Sequence[TimetableStep], helpers: Mapping[str, str]) -> tuple[TimetableStep, ...]:
    """Return rows, and each in which somebody helps once more as that person's: what is worn in it both wear.

    Parameters
    ----------
    rows
        Of the timetable
    helpers
        Who helps, by the ids of rows
    """
    return tuple(
        worn_by
        for row in rows
        for worn_by in ((row, replace(row, person=helpers[row.id])) if row.id in helpers else (row,))
    )


def _alike(before: TimetableStep, row: TimetableStep) -> bool:
    if row.deed == "clean-up":
        return before.deed in _WET
    return before.deed == row.deed and before.step == row.step


def _without_what_is_spared(
    records: Iterable[Caution], masks: Iterable[str], catalogue: Catalogue
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    uses = dict.fromkeys(name for record in records for name in record.uses)
    needs = dict.fromkeys(name for record in records for name in record.needs)
    needs.update(dict.fromkeys(masks))
    for name in list(needs):
        for covered in catalogue.equipment[name].covers:
            needs.pop(covered, None)
        for spared in catalogue.equipment[name].spares:
            uses.pop(spared, None)
    on_mask = any(catalogue.consumables[name].on_mask for name in uses)
    for name in list(uses):
        instead = catalogue.consumables[name].spared_by
        if instead is not None and (instead in uses or (on_mask and catalogue.consumables[instead].on_mask)):
            uses.pop(name)
            uses[instead] = None
    return tuple(uses), tuple(needs)


def care_ticks(
    rows: Sequence[TimetableStep],
    cares: Mapping[str, RowCare],
    catalogue: Catalogue,
    looked_for: Collection[date] = (),
    self_heating: Collection[str] = (),
) -> tuple[Duty, ...]:
    """Return what is ticked at the end of rows, and in the evening of days on which something was there.

    On days on which cloths that heat themselves are *looked for*, those have their own tick, which says where they are:
    what is said of cloths in general is then said only where steps that are not *self-heating*, by their ids, use some.
    """
    duties: list[Duty] = []
    attended = [row for row in rows if row.kind == "attended"]
    last = {row.id: row for row in attended}
    for row in last.values():
        care = cares.get(row.id)
        after = [code for code in (care.codes if care else ()) if catalogue.cautions[code].after is not None]
        duties += [Duty(row.end, row.id, CautionDue(code, evening=False)) for code in after]
    for day in dict.fromkeys(row.start.date() for row in attended):
        of_day = [row for row in attended if row.start.date() == day]
        cared = [(row, cares[row.id].codes) for row in of_day if row.id in cares]
        codes = dict.fromkeys(code for _, of_row in cared for code in of_row)
        evening = [code for code in codes if catalogue.cautions[code].evening is not None]
        if day in looked_for:
            others = {code for row, of_row in cared if row.of_step not in self_heating for code in of_row}
            evening = [
                code for code in evening if "self-heating" not in catalogue.cautions[code].applies or code in others
            ]
        due = max((row.end for row in of_day), key=lambda end: end.timestamp())
        hardener = any(catalogue.cautions[code].applies == ("isocyanate",) for code in codes)
        duties += [Duty(due, None, CautionDue(code, evening=True, beside_isocyanate=hardener)) for code in evening]
    return tuple(duties)


def extra_ticks(rows: Sequence[TimetableStep], catalogue: Catalogue) -> tuple[Duty, ...]:
    """Return what is ticked, or signed, when steps beside the coats are done."""
    last = {row.id: row for row in rows if row.kind == "attended" and row.extra is not None}
    return tuple(
        Duty(row.end, row.id, ExtraDone(row.extra))
        for row in last.values()
        if row.extra is not None and catalogue.extra_steps[row.extra].tick is not None
    )
