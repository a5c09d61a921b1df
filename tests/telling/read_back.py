"""Reads what every front end says of the rows of a plan back from what it gives out, as text and nothing else."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from html import unescape
from typing import Any

from icalendar import Calendar

from finplan.calendar import plan_calendar
from finplan.cli.materials import materials_lines
from finplan.cli.timetable import timetable_lines
from finplan.data import as_json, plan_data, steps_csv
from finplan.planning import Plan
from finplan.sheet import sheet_html

MOMENT = r"(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ [A-Z][a-z]{2} \d\d:\d\d"
UP_TO = r"Have up to (.*?) at hand|It may take up to (.*?)\.(?:\s|$)"
"""The most that a coat may take; of one of several for which one batch is mixed the spare is told with that."""
_MONTHS = ("January", "February", "March", "April", "May", "June")
_WINDOW = re.compile(
    rf"Next coat not before .*|Turn it over when .*|Last coat\. Leave .*|Leave it alone until it has cured\."
    rf"|.* not before {MOMENT}, when it has cured\."
)


@dataclass(frozen=True)
class Said:
    """What is said of a stretch of work on an item. None where this front end does not speak of it."""

    start: str
    """As ``2027-03-02 08:05`` on the clock of the shop."""
    end: str | None
    name: str | None
    """Of the item, without its piece."""
    step: str
    person: str | None = None
    room: str | None = None
    poured: str | None = None
    up_to: str | None = None
    not_before: str | None = None
    not_after: str | None = None
    number: str | None = None
    """Of the step, by which it is told as done."""
    words: str = ""
    """All that is said."""


def minute(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def in_words(moment: str) -> str:
    """A moment of the data as the others tell it: ``Tue 2 Mar 08:05``."""
    told = datetime.fromisoformat(moment)
    return f"{told:%a} {told.day} {told:%b} {told:%H:%M}"


def window_of(words: str) -> tuple[str | None, str | None]:
    """From when and until when, by a sentence about a wet coat."""
    opens = re.search(rf"(?:not before|until|from) ({MOMENT})", words)
    closes = re.search(rf"not after ({MOMENT})", words)
    return opens and opens[1], closes and closes[1]


# --- data -------------------------------------------------------------------------------------------------------------


def data_of(plan: Plan) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(as_json(plan_data(plan)))
    return found


def csv_rows(plan: Plan) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(steps_csv(plan.timetable))))


# --- calendar ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Dated:
    """An event of a calendar that is a date, or a coat that dries."""

    start: str
    end: str
    summary: str
    alarms: tuple[str, ...]


def in_calendar(plan: Plan) -> tuple[list[Said], list[Dated]]:
    """The work in the calendar, and what dries or is a date."""
    steps = {row.step for row in plan.timetable.steps if row.kind == "attended"}
    pieces = [f"{piece.name}, " for piece in plan.pieces] if len(plan.pieces) > 1 else []
    work, dated = [], []
    for event in Calendar.from_ical(plan_calendar(plan, datetime(2027, 1, 1, tzinfo=UTC))).walk("VEVENT"):
        start, end = (minute(event.decoded(name).astimezone(plan.shop.time_zone)) for name in ("dtstart", "dtend"))
        summary, words = str(event["summary"]), str(event.get("description", ""))
        number, name, step = re.fullmatch(r"(?:(\d+)\. )?(?:(.*): )?(.*?)", summary).groups()  # type: ignore[union-attr]
        if step not in steps or "location" not in event:
            alarms = tuple(str(alarm["description"]) for alarm in event.walk("VALARM"))
            dated.append(Dated(start, end, summary, alarms))
            continue
        for piece in pieces:
            name = name.removeprefix(piece)
        window = next((line for line in words.splitlines() if _WINDOW.fullmatch(line)), "")
        pour = re.search(r": pour out (.*), up to (.*)\.", words)
        person = re.match(r"For (.*)\.", words)
        opens, closes = window_of(window)
        work.append(
            Said(
                *(start, end, name, step, person and person[1], str(event["location"])),
                *(pour and pour[1], pour and pour[2], opens, closes, number or "", words),
            )
        )
    return work, dated


# --- terminal ---------------------------------------------------------------------------------------------------------


def _cells(lines: list[str], heading: str) -> Iterator[list[str]]:
    """The cells of a table that is printed under a heading, by the dashes under it."""
    at = next(number for number, line in enumerate(lines) if line.startswith(heading))
    spans = [match.span() for match in re.finditer("-+", lines[at + 1])]
    for line in lines[at + 2 :]:
        if not line:
            return
        yield [
            line[start : end if number + 1 < len(spans) else None].strip() for number, (start, end) in enumerate(spans)
        ]


def on_terminal(plan: Plan) -> list[Said]:
    """The rows of ``finplan timetable``."""
    found: list[Said] = []
    day = date.min
    for when, number, item, step, person, alone, until in _cells(timetable_lines(plan), "when "):
        clock = re.search(r"(\d\d:\d\d)-(\d\d:\d\d)", when)
        if clock is None:
            day = datetime.strptime(when, "%a %d %b %Y").date()
            continue
        found.append(
            Said(
                start=f"{day} {clock[1]}",
                end=f"{day} {clock[2]}",
                name=item.partition(": ")[2] if len(plan.pieces) > 1 else item,
                step=step,
                person=person,
                not_before=alone or None,
                not_after=until or None,
                number=number,
            )
        )
    return found


def measured_on_terminal(plan: Plan) -> dict[tuple[str, str], tuple[str, str]]:
    """What ``finplan materials`` measures out, by item and coat; of one piece."""
    lines = materials_lines(plan.materials, plan.catalogue, plan.units)
    lines = lines[lines.index("What to measure out") :]
    found = {}
    for item, coat, pour, up_to, _ in _cells(lines, "item "):
        if not coat:  # the title of a finish, or more of what is mixed
            continue
        label, comma, faces = coat.partition(",")
        first, _, last = label.replace("coats ", "coat ").removeprefix("coat ").partition("–")
        labels = [label] if not last else [f"coat {number}" for number in range(int(first), int(last) + 1)]
        for one in labels:
            found[item, f"{one}{comma}{faces}"] = (pour.partition(" (")[0], up_to)
    return found


# --- sheet ------------------------------------------------------------------------------------------------------------


def on_sheet(plan: Plan) -> tuple[list[Said], str]:
    """The rows of the days on the printed sheet, an item a row, and all its text."""
    page = re.sub(r"<(style|svg)\b.*?</\1>", "", sheet_html(plan), flags=re.DOTALL)
    found: list[Said] = []
    for table in re.findall(r'<table class="days.*?</table>', page, re.DOTALL):
        heading = text_of(re.search(r"<h2>(.*?)</h2>", table, re.DOTALL)[1])  # type: ignore[index]
        day = re.search(r"(\d+) (\w+) (\d{4})", heading)
        assert day is not None
        on = date(int(day[3]), _MONTHS.index(day[2]) + 1, int(day[1]))
        person, room = "", ""
        for kind, body in re.findall(r'<tbody class="(\w+)">(.*?)</tbody>', table, re.DOTALL):
            if kind == "person":
                person, room = text_of(body), ""
            if kind != "session":
                continue
            rows = re.findall(r"<tr.*?</tr>", body, re.DOTALL)
            # What was ticked before an earlier session of the day is one box, whose label says what it stands for.
            again = " ".join(re.findall(r'aria-label="All of it again: (.*?)"', rows[0]))
            before = f"{text_of(rows[0])} {text_of(again)}" if 'class="before"' in rows[0] else text_of(again)
            where = re.search(r'<strong class="room">(.*?)</strong>', rows[0])
            room = text_of(where[1]) if where else room
            for row in rows:
                if 'class="time"' in row:
                    found += _row(row, on, f"{heading}\n{person}\n{before}", room)
    return found, text_of(page)


def _row(row: str, on: date, above: str, room: str) -> Iterator[Said]:
    """What a row says, with what stands above it for all of its day, its person and its session."""
    clock = re.findall(r"\d\d:\d\d", re.search(r'class="time">(.*?)</th>', row, re.DOTALL)[1])  # type: ignore[index]
    what = re.search(r'<p class="what">(.*?)</p>', row, re.DOTALL)
    amount = re.search(r'<span class="key[^"]*">(.*?)</span>', row, re.DOTALL)
    window = re.search(r'<strong class="window">(.*?)</strong>', row, re.DOTALL)
    assert what is not None
    opens, closes = _dried(text_of(window[1]) if window else "")
    words = f"{above}\n{text_of(row)}"
    name, colon, step = text_of(
        re.split(r' <span class="(?:tickable|latest|fill|key(?: long)?)">', what[1])[0]
    ).rpartition(": ")
    step = step.removesuffix(", continued")
    number = r'(?:<span class="number">(\d+)</span>)?'
    box = rf'<p class="one"><input[^>]*> {number} ?([\d:–]+) <strong>(.*?)</strong>(.*?)</p>'
    shared = re.findall(box, row, re.DOTALL)
    for of_step, time, item, rest in shared:
        start, end = time.split("–")
        item, _, key = text_of(item).partition(": ") if 'class="real-amount"' in rest else (text_of(item), "", "")
        up_to = re.search(UP_TO, f"{text_of(rest)} {words}")
        yield Said(
            start=f"{on} {start}",
            end=f"{on} {end}",
            name=_unmarked(item),
            step=step,
            room=room,
            poured=key or None,
            up_to=up_to and (up_to[1] or up_to[2]),
            not_before=opens,
            not_after=closes,
            number=of_step,
            words=words,
        )
    own = re.search(number + "</td>", row)
    if not shared:
        up_to = re.search(UP_TO, words)
        yield Said(
            start=f"{on} {clock[0]}",
            end=f"{on} {clock[1]}" if len(clock) > 1 else None,
            name=_unmarked(name) if colon else None,
            step=step,
            room=room if colon else None,  # of a clean-up none is told: it is that of its coat
            poured=text_of(amount[1]) if up_to and amount else None,
            up_to=up_to and (up_to[1] or up_to[2]),
            not_before=opens,
            not_after=closes,
            number=own[1] or "" if own else None,
            words=words,
        )


def _dried(words: str) -> tuple[str | None, str | None]:
    """From when a coat may be touched and until when the next may go on it, by what the sheet says of it.

    Where that is at night it is told as dry, and when somebody works first behind it.
    """
    opens = re.search(rf"(?:Dry|Cured|Fit to handle|Leave it alone until) ({MOMENT})", words)
    closes = re.search(rf"goes on not after ({MOMENT})", words)
    return opens and opens[1], closes and closes[1]


def _unmarked(name: str) -> str:
    """A name without the letter of its piece, which a space follows at which no line breaks."""
    return re.sub(r"^[A-Z]\u00a0", "", name)


def text_of(markup: str) -> str:
    return re.sub(r"[ \n]+", " ", unescape(re.sub(r"<[^>]+>", " ", re.sub(r"</?bdi>", "", markup)))).strip()
