"""Looks for what data, spreadsheet, calendar, terminal and sheet of one plan tell differently of a row of work."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from finplan.planning import Plan
from finplan.tags import tags
from finplan.timetable import TimetableStep
from tests.telling.of_all import of_all
from tests.telling.read_back import (
    MOMENT,
    Said,
    csv_rows,
    data_of,
    in_calendar,
    in_words,
    measured_on_terminal,
    on_sheet,
    on_terminal,
)

PUTS_ON = ("coat", "fill")
_PER_UNIT = {
    "ml": 1.0,
    "L": 1000.0,
    "fl oz": 29.5735295625,
    "qt": 946.352946,
    "gal": 3785.411784,
    "g": 1.0,
    "kg": 1000.0,
}
_PER_UNIT |= {"oz": 28.349523125, "lb": 453.59237}
# NIST Handbook 44, appendix C.


def disagreements(plan: Plan) -> list[str]:
    """Return everything that one tells and another contradicts, in words."""
    if not plan.timetable.steps:  # what does not fit has no rows
        return []
    data = data_of(plan)
    calendar, dated = in_calendar(plan)
    sheet, page = on_sheet(plan)
    terminal = on_terminal(plan)
    rows = [row for row in data["timetable"]["steps"] if row["kind"] == "attended"]
    planned = [row for row in plan.timetable.steps if row.kind == "attended"]
    found = [*_spreadsheet(data, csv_rows(plan))]
    for where, said in (("calendar", calendar), ("terminal", terminal)):
        if len(said) != len(rows):
            found.append(f"{where}: {len(said)} rows of work of {len(rows)}")
    for number, (row, of_plan) in enumerate(zip(rows, planned, strict=True)):
        told = {"calendar": calendar[number], "terminal": terminal[number]}
        on_paper = _on_paper(row, told["calendar"], sheet)
        if on_paper is None:
            found.append(f"sheet: nothing of {row['id']} at {row['start']}")
        else:
            told["sheet"] = on_paper
        found += _moments(row, told)
        if of_plan.deed in PUTS_ON:
            found += _amounts(_mix_of(row, of_plan, data), row["id"], told)
            found += _windows(row, _expected(row, of_plan, plan), told)
    found += _drying(data, dated)
    found += _alarms(calendar, dated)
    found += _tags(plan, terminal, planned)
    found += _dates(plan, data, [(one.start, one.summary) for one in dated], page)
    found += _care(data, rows, calendar, sheet, page)
    found += of_all(plan, data, page)
    if len(plan.pieces) == 1:
        found += _measured(data, measured_on_terminal(plan))
    return found


# --- moments, names, people -------------------------------------------------------------------------------------------


def _spreadsheet(data: Mapping[str, Any], rows: list[dict[str, str]]) -> Iterator[str]:
    steps = data["timetable"]["steps"]
    if len(steps) != len(rows):
        yield f"spreadsheet: {len(rows)} rows of {len(steps)}"
    for step, row in zip(steps, rows, strict=False):
        for name in set(step) & set(row):
            value = {"True": "yes", "False": "no", "None": ""}.get(str(step[name]), str(step[name]))
            if row[name].removeprefix("'") != value:
                yield f"spreadsheet: {step['id']}: {name} is {row[name]}, not {value}"


def _clock(moment: str) -> str:
    return moment[:16].replace("T", " ")


def _on_paper(row: Mapping[str, Any], event: Said, sheet: Iterable[Said]) -> Said | None:
    """What the sheet says of a stretch of work: by its beginning and its name, without one, of a clean-up, its number.

    Two people may clean up in the same minute.
    """
    number = str(row["number"] or "")
    for said in sheet:
        nameless = said.number == number and (row["deed"] == "clean-up" or row["item"] == "whole piece")
        same = said.name == event.name if said.name else nameless
        if said.start == _clock(row["start"]) and same and (said.end is None or said.end == _clock(row["end"])):
            return said
    return None


def _moments(row: Mapping[str, Any], told: Mapping[str, Said]) -> Iterator[str]:
    names = {said.name for said in told.values() if said.name is not None}
    if len(names) != 1:
        yield f"{row['id']} is called {sorted(names)}"
    for where, said in told.items():
        if said.number is not None and said.number != str(row["number"] or ""):
            yield f"{where}: {row['id']} is number {said.number}, not {row['number']}"
        if said.start != _clock(row["start"]) or (said.end or _clock(row["end"])) != _clock(row["end"]):
            yield f"{where}: {row['id']} from {said.start} to {said.end}, not {row['start']} to {row['end']}"
        if said.person is not None and said.person != row["person"]:
            yield f"{where}: {row['id']} is {said.person}'s, not {row['person']}'s"
        if said.room is not None and said.room != row["room"]:
            yield f"{where}: {row['id']} is in {said.room}, not {row['room']}"
        if row["deed"] != "clean-up" and said.step.lower() != row["step"].lower():
            yield f"{where}: {row['id']} is {said.step}, not {row['step']}"
    if "sheet" in told and row["person"] not in told["sheet"].words:
        yield f"sheet: {row['id']} does not name {row['person']}"


# --- amounts ----------------------------------------------------------------------------------------------------------


def _mix_of(row: Mapping[str, Any], of_plan: TimetableStep, data: Mapping[str, Any]) -> dict[str, Any]:
    """What the data has measured out for a coat, or for the side of it that a row puts on."""
    coats = [coat for one in data["materials"]["materials"] for coat in one["coats"] if one["kind"] == "finish"]
    coats = [coat for coat in coats if (coat["piece"], coat["item"]) == (row["piece"], row["item"])]
    labels = {
        step["id"]: step["label"] for piece in data["pieces"] for one in piece["treatments"] for step in one["steps"]
    }
    faces = {
        step["id"]: [(one["part"], one["faces"]) for one in step["faces"]]
        for piece in data["pieces"]
        for one in piece["treatments"]
        for step in one["steps"]
    }
    step = of_plan.of_step or ""
    (coat,) = (
        coat
        for coat in coats
        if coat["coat"] == labels[step] and [(one["part"], one["faces"]) for one in coat["groups"]] == faces[step]
    )
    mixes = {one["coat"]: one["mix"] for one in coat["sides"]} or {coat["coat"]: coat["mix"]}
    found: dict[str, Any] = mixes[row["step"]]
    return found


def _amounts(mix: Mapping[str, Any], what: str, told: Mapping[str, Said]) -> Iterator[str]:
    said = {where: one for where, one in told.items() if where != "terminal"}
    for name in ("poured", "up_to"):
        words = {getattr(one, name) for one in said.values()}
        if len(words) != 1:
            yield f"{what}: {name} is {sorted(map(str, words))}"
    for where, one in said.items():
        yield from (f"{where}: {what}: {wrong}" for wrong in _measures(mix, one.poured or "", one.up_to or ""))


def _measures(mix: Mapping[str, Any], poured: str, up_to: str) -> Iterator[str]:
    batches, amount = re.fullmatch(r"(?:(\d+) × )?(.*)", poured.replace("\u00a0", " ")).groups()  # type: ignore[union-attr]
    decants = (mix["decant"], mix["of_batch"])
    if int(batches or 1) != mix["batches"]:
        yield f"{poured}, not {mix['batches']} times"
    by_mass = amount.endswith((" g", "kg", " oz", "lb")) and not amount.endswith("fl oz")
    if not any(_about(amount, decant["mass_g"] if by_mass else decant["volume_ml"]) for decant in decants):
        yield f"{poured} poured out, not one of {decants}"
    if not by_mass and not _about(up_to, mix["up_to_ml"]):
        yield f"up to {up_to}, not {mix['up_to_ml']} ml"


def _about(words: str, value: float) -> bool:
    """Whether an amount in words is a value, as nearly as three figures, or a cup in ounces, show it."""
    number, unit = words.replace("\u00a0", " ").split(" ", 1)
    shown = float(sum(map(Fraction, number.split("-")))) * _PER_UNIT[unit]
    return abs(shown - value) <= max(0.006 * value, 0.06 if unit in ("ml", "g") else 0.2)


def _measured(data: Mapping[str, Any], told: Mapping[tuple[str, str], tuple[str, str]]) -> Iterator[str]:
    """What the terminal has measured out is what the data has."""
    for one in data["materials"]["materials"]:
        for coat in one["coats"] if one["kind"] == "finish" else []:
            for label, mix in [(side["coat"], side["mix"]) for side in coat["sides"]] or [(coat["coat"], coat["mix"])]:
                poured, up_to = told.get((coat["item"], label), ("0 ml", "0 ml"))
                yield from (f"terminal: {coat['item']}, {label}: {wrong}" for wrong in _measures(mix, poured, up_to))


# --- windows ----------------------------------------------------------------------------------------------------------


def _expected(row: Mapping[str, Any], of_plan: TimetableStep, plan: Plan) -> tuple[str | None, str | None, str]:
    """From when and until when something may be done to a coat, and why it is abraded before the next one.

    From when is what the data has: that it is right is looked at where the timetable is verified. It is not worked out
    here from other rows as the words once were, for then both can be wrong in the same way.
    """
    opens = row["alone_until"] and in_words(row["alone_until"])
    steps = next(one.steps for one in plan.treatments if any(step.id == of_plan.of_step for step in one.steps))
    later = steps[next(number for number, step in enumerate(steps) if step.id == of_plan.of_step) + 1 :]
    sides = [
        one
        for one in plan.timetable.steps
        if one.of_step == of_plan.of_step and one.kind == "attended" and one.deed in PUTS_ON
    ]
    coats = [number for number, step in enumerate(later) if step.finish is not None]
    if not coats or (of_plan.side == "first-side" and any(one.side == "second-side" for one in sides)):
        return opens, None, ""
    if {"sand", "abrade", "rub-out"} & {step.do for step in later[: coats[0]]}:
        return opens, None, "" if later[0].do == "rub-out" else "by its steps"
    closes = min((one.next_until for one in sides if one.next_until is not None), default=None)
    again = any(one.of_step == later[coats[0]].id and one.deed == "abrade-again" for one in plan.timetable.steps)
    if closes is None:
        return opens, None, ""
    if opens is None or closes < datetime.fromisoformat(row["alone_until"]):
        return opens, None, "by then it is too hard"
    return opens, None if again else _words(closes), f"planned after {_words(closes)}" if again else ""


def _words(moment: datetime) -> str:
    return in_words(moment.isoformat())


def _windows(
    row: Mapping[str, Any], expected: tuple[str | None, str | None, str], told: Mapping[str, Said]
) -> Iterator[str]:
    opens, closes, abraded = expected
    for where in ("calendar", "sheet"):
        said = told.get(where)
        if said is None:
            continue
        shared = where == "sheet" and re.search(r"\d items: ", said.words) is not None
        if not shared and (said.not_before, said.not_after) != (opens, closes):
            yield f"{where}: {row['id']} from {said.not_before} until {said.not_after}, not {opens} until {closes}"
        if not shared and abraded not in ("by its steps", "") and abraded not in said.words:
            yield f"{where}: {row['id']} does not say: {abraded}"
    terminal = told["terminal"]
    by = terminal.not_after
    if (closes or ("abraded first" if abraded else None)) != (None if by == "no limit" else by):
        yield f"terminal: next coat on {row['id']} by {by}, not {closes or abraded}"
    if terminal.not_before != opens:
        yield f"terminal: {row['id']} is left alone until {terminal.not_before}, not {opens}"
    if (row["abraded_first"] is False and abraded) or (row["abraded_first"] is None and by is not None):
        yield f"data: {row['id']}: abraded first is {row['abraded_first']}, on the terminal {by}"


def _drying(data: Mapping[str, Any], dated: Iterable[Any]) -> Iterator[str]:
    """A coat dries in the calendar as long as in the data."""
    spans = {(one.start, one.end) for one in dated if one.summary.endswith(" dries")}
    for row in data["timetable"]["steps"]:
        if row["kind"] == "drying" and (_clock(row["start"]), _clock(row["end"])) not in spans:
            yield f"calendar: {row['id']} dries from {row['start']} to {row['end']}, which it does not show"


def _alarms(calendar: Iterable[Said], dated: Iterable[Any]) -> Iterator[str]:
    """A telephone rings for no other end of a window than the work names."""
    known = {said.not_after for said in calendar}
    for one in dated:
        for words in one.alarms:
            until = re.search(r"not after (.*?), or abrade", words)
            if until is not None and until[1] not in known:
                yield f"calendar: {one.summary} rings for {until[1]}, which no work names"


def _tags(plan: Plan, terminal: list[Said], planned: list[TimetableStep]) -> Iterator[str]:
    """What hangs on a wet thing says what the terminal says."""
    said = {
        (f"{row.start:%a} {row.start.day} {row.start:%b %H:%M}", plan.piece_of(row).name, one.name): one.not_before
        for row, one in reversed(list(zip(planned, terminal, strict=True)))
        if row.deed in PUTS_ON
    }
    for tag in tags(plan):
        until = said.get((tag.put_on, tag.piece, tag.part), "nothing")
        if until != (None if tag.moment == "it is dry" else tag.moment):
            yield f"tag: {tag.part}, {tag.coat} until {tag.moment}, on the terminal {until}"


# --- dates ------------------------------------------------------------------------------------------------------------


def _dates(plan: Plan, data: Mapping[str, Any], events: list[tuple[str, str]], page: str) -> Iterator[str]:
    from finplan.cli.timetable import timetable_lines

    lines = "\n".join(timetable_lines(plan))
    ready = {"handle": "fit to handle", "light-use": "ready for light use", "cure": "cured fully"}[data["ready_for"]]
    for piece in data["timetable"]["pieces"]:
        for name, words in (("ready", f"{piece['piece']}: {ready}"), ("deliver", f"{piece['piece']}: deliver")):
            if piece[name] is None:
                continue
            if (_clock(piece[name]), words) not in events:
                yield f"calendar: no {words} at {piece[name]}"
            moment = in_words(piece[name])
            if moment not in lines:
                yield f"terminal: {words} is not at {moment}"
            if not _printed(moment, page, ready if name == "ready" and len(plan.pieces) == 1 else ""):
                yield f"sheet: {words} is not at {moment}"
        if f"{ready} {in_words(piece['ready'])}" not in lines:
            yield f"terminal: it is not {ready} at {piece['ready']}"
    latest = data["timetable"]["latest_safe_start"]
    if latest is not None:
        if not any(start == _clock(latest) and words.startswith("Begin no later") for start, words in events):
            yield f"calendar: the latest start is not {latest}"
        if in_words(latest) not in lines:
            yield f"terminal: the latest start is not {latest}"


def _printed(moment: str, page: str, called: str) -> bool:
    """Whether a moment is printed; of one that is called by a name, on the first page and wherever it is called so."""
    day, clock = moment.rsplit(" ", 1)
    if not called:
        return re.search(rf"{day}(?: \d{{4}})? {clock}", page) is not None
    named = re.findall(rf"{called} ({MOMENT})", page, re.IGNORECASE)
    return bool(named) and all(one == moment for one in named) and f"{clock} {called}" in page


# --- what is worn and minded ------------------------------------------------------------------------------------------


def _verdict(air: str) -> str:
    """What a day of the sheet says of air: by how much it does, and at the worst, stands on the page of safety."""
    masked = re.match(r"Vapour mask(, [^:]*)?: by this reckoning (.*? the limit) \(", air)
    if masked:
        return f"Vapour mask{' and fan' if masked[1] else ''} ON: {masked[2]} (air "
    carried = re.match(r"(Then .* \([^()]*)\)\. A note at its door", air)
    if carried:
        return f"{carried[1]}, air "
    return air.partition(" by this reckoning")[0] if "the air does" in air.lower() else air


def _things(line: str) -> list[str]:
    """Return what is worn or at hand, which paper tells of several rows at once, thing by thing; else the line."""
    head, _, things = line.rpartition(": ")
    return things.removesuffix(".").split(", ") if head in ("On", "At hand", "") else [line]


def _care(
    data: Mapping[str, Any], rows: list[dict[str, Any]], calendar: list[Said], sheet: list[Said], page: str
) -> Iterator[str]:
    cares = {one["row"]: one for one in data["safety"]["rows"]}
    begun: set[str] = set()
    for row, event in zip(rows, calendar, strict=True):
        care, first = cares.get(row["id"]), row["id"] not in begun
        begun.add(row["id"])
        if care is None:
            continue
        paper = _on_paper(row, event, sheet)
        for where, words in (("calendar", event.words), ("sheet", "" if paper is None else paper.words)):
            wanted = _things(care["worn"])
            wanted += [thing for line in care["before"] if first for thing in _things(line)]
            if row["deed"] != "clean-up":  # of that some is told at the coat, a line above
                wanted += [*care["mind"], *(map(_verdict, care["air"]) if where == "sheet" else care["air"])]
            yield from (f"{where}: {row['id']} does not say: {line}" for line in wanted if line not in words)
    for line in data["safety"]["cautions"]:
        if line["title"] not in page or " ".join(line["text"].split()) not in page:
            yield f"sheet: the caution {line['code']} is not printed"
