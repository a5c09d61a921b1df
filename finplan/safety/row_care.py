"""What each row of work asks for: what is ready before it, worn in it, minded in it, and ticked after it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue, Caution
from finplan.safety.cautions import CautionLine
from finplan.safety.circumstances import Circumstance
from finplan.safety.rags import Duty
from finplan.safety.report import SessionReport
from finplan.timetable import TimetableStep

_WORN = ("mask", "breathing-protection")
"""Conditions of the air that are ticked with what is worn."""
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
    worn: str
    """What is worn, in words; empty where nothing is."""
    mind: tuple[str, ...]
    """What is minded in it."""
    sessions: tuple[SessionReport, ...]
    """What is reckoned of the air, where something is put on or cleaned."""
    air_enough: bool
    """Whether that says that it is enough."""
    before: tuple[str, ...]
    """What is ticked before it is begun, what is worn last; nothing where a person goes straight on with the same."""
    after: tuple[str, ...]
    """What is ticked when it ends."""

    @property
    def wear(self) -> str:
        """What is worn, in one sentence, where it is not ticked before."""
        return f"Wear: {self.worn}." if self.worn and not self.before else ""


def row_care(
    rows: Sequence[TimetableStep],
    circumstances: Sequence[Circumstance],
    lines: Sequence[CautionLine],
    sessions: Sequence[SessionReport],
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
    catalogue
        Where the records are
    """
    reports: dict[str, list[SessionReport]] = {}
    for report in sessions:
        for step in report.steps:
            reports.setdefault(step, []).append(report)
    opened = opening(rows)
    found: dict[str, RowCare] = {}
    for row in rows:
        here = [line.code for line in lines if row.id in line.rows]
        if row.kind == "attended" and row.id not in found and here:
            of_air = reports.get(row.id, [])
            masks = [one.mask for one in circumstances if one.mask is not None and row.id in one.rows]
            care = _care(row, here, masks, catalogue, opens=row.id in opened)
            found[row.id] = replace(
                care,
                sessions=tuple(of_air),
                before=(*_conditions(row.id, of_air), *care.before) if row.id in opened else (),
                air_enough=all(one.session.verdict == "enough" for one in of_air),
            )
    return found


def _care(
    row: TimetableStep, codes: Sequence[str], masks: Sequence[str], catalogue: Catalogue, *, opens: bool
) -> RowCare:
    records = [catalogue.cautions[code] for code in codes]
    uses, needs = _without_what_is_spared(records, masks, catalogue)
    worn = worn_words(uses, needs, catalogue)
    ready = _ready_words(uses, needs, catalogue)
    before = [record.before for record in records if record.before is not None]
    if ready:
        before.append(f"At hand: {ready}.")
    if worn:
        before.append(f"On: {worn}.")
    return RowCare(
        row=row.id,
        person=row.person or "",
        codes=tuple(codes),
        uses=uses,
        needs=needs,
        worn=worn,
        mind=tuple(record.row for record in records if record.row is not None),
        sessions=(),
        air_enough=True,
        before=tuple(before) if opens else (),
        after=tuple(record.after for record in records if record.after is not None),
    )


def _conditions(row_id: str, reports: Sequence[SessionReport]) -> tuple[str, ...]:
    """Return what the air of a row rests on, as far as it is not worn."""
    return tuple(
        dict.fromkeys(
            condition.text
            for report in reports
            for condition in report.conditions
            if row_id in condition.steps and condition.kind not in _WORN
        )
    )


def opening(rows: Sequence[TimetableStep]) -> frozenset[str]:
    """Return the ids of the rows that begin something: not those in which a person goes straight on with the same.

    Wet work goes straight on with what was opened for the row before, and abrading and sanding with what is on.
    """
    last: dict[str, TimetableStep] = {}
    found: dict[str, None] = {}
    seen: set[str] = set()
    for row in (row for row in rows if row.kind == "attended"):
        before = last.get(row.person or "")
        goes_on = before is not None and before.end == row.start and _alike(before, row)
        if row.id not in seen and not goes_on:
            found[row.id] = None
        seen.add(row.id)
        last[row.person or ""] = row
    return frozenset(found)


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
        if instead is not None and (on_mask or instead in uses):
            uses.pop(name)
            uses[instead] = None
    return tuple(uses), tuple(needs)


def worn_words(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> str:
    """Return what is worn, a mask with what sits on it; empty where nothing is."""
    worn = {name: catalogue.consumables[name] for name in uses if catalogue.consumables[name].worn}
    on_mask = [one.called or one.title for one in worn.values() if one.on_mask]
    said = [
        f"{one.called} with {' and '.join(on_mask)}" if one.holds and on_mask else one.called
        for one in (catalogue.equipment[name] for name in needs)
        if one.worn
    ]
    said += [one.called or one.title for one in worn.values() if not one.on_mask]
    return ", ".join(said)


def _ready_words(uses: Iterable[str], needs: Iterable[str], catalogue: Catalogue) -> str:
    ready = [one.called for one in (catalogue.equipment[name] for name in needs) if not one.worn]
    at_hand = [one for one in (catalogue.consumables[name] for name in uses) if not one.worn]
    return ", ".join([*ready, *(one.called for one in at_hand if one.called is not None)])


def care_ticks(rows: Sequence[TimetableStep], cares: Mapping[str, RowCare], catalogue: Catalogue) -> tuple[Duty, ...]:
    """Return what is ticked at the end of rows, and in the evening of days on which something was there."""
    found: list[Duty] = []
    attended = [row for row in rows if row.kind == "attended"]
    last = {row.id: row for row in attended}
    for row in last.values():
        care = cares.get(row.id)
        found += [Duty(row.end, row.id, words) for words in (care.after if care else ())]
    for day in dict.fromkeys(row.start.date() for row in attended):
        of_day = [row for row in attended if row.start.date() == day]
        codes = dict.fromkeys(code for row in of_day if row.id in cares for code in cares[row.id].codes)
        evening = [catalogue.cautions[code].evening for code in codes]
        due = max((row.end for row in of_day), key=lambda end: end.timestamp())
        found += [Duty(due, None, words) for words in evening if words is not None]
    return tuple(found)
