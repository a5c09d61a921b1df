"""One day of the sheet, or one person's work, to be pinned up or handed over."""

from __future__ import annotations

import re
from pathlib import Path

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")
HEADING = re.compile(r'<span class="when">(.*?)</span> <span class="who maker">(.*?)</span>')


def days_of(page: Path) -> list[tuple[str, ...]]:
    text = page.read_text(encoding="utf-8")
    assert text.count("<section") == 1, "the days and nothing else"
    return [found.groups() for found in HEADING.finditer(text)]


def seen_to(page: Path) -> dict[str, bool]:
    """By the day, whether its box before locking up is on a page; otherwise a line says who does it."""
    tables = re.findall(r'<table class="days.*?</table>', page.read_text(encoding="utf-8"), re.DOTALL)
    boxes = {HEADING.findall(one)[0][0]: "Before you lock up:" in one for one in tables}
    assert all((", who leaves last (" in one) is not ("Before you lock up:" in one) for one in tables)
    assert all(("Signed" in one) is ("Before you lock up:" in one) for one in tables)
    return boxes


def test_one_day_or_one_person_alone(demo: Path, cli: Cli) -> None:
    output, shop = demo / "days.html", demo / "two.yaml"
    shop.write_text(
        "shop: Two at work\npeople:\n"
        "  - {name: Maren, hours: {mon-fri: 8:00-16:00}, skills: [sanding, assembly]}\n"
        "  - {name: Osric, hours: {mon-fri: 8:00-16:00}, skills: [coating]}\n",
        encoding="utf-8",
    )
    asked = ("sheet", demo / "round-table.yaml", "--shop", shop, *FROM, "-o", output)
    assert cli(*asked, "--for", "Osric").status == 0
    osrics = days_of(output)
    assert osrics
    assert all(who.startswith("Osric ") and "Maren" not in who for _, who in osrics)
    with_osric = seen_to(output)
    assert cli(*asked, "--for", "Maren").status == 0
    marens, with_maren = days_of(output), seen_to(output)
    both = {day for day, _ in marens} & {day for day, _ in osrics}
    ends = {(day, name): who[-5:] for name, days in (("Maren", marens), ("Osric", osrics)) for day, who in days}
    for shown in with_maren | with_osric:
        assert with_maren.get(shown, False) is (ends.get((shown, "Maren"), "") > ends.get((shown, "Osric"), ""))
        assert with_osric.get(shown, False) is not with_maren.get(shown, False), "whoever leaves last, and one alone"
    day = sorted(both)[0]
    number, month, year = day.split()[1:]
    date = f"{year}-{['January', 'February'].index(month) + 1:02}-{int(number):02}"
    assert cli(*asked, "--day", date).status == 0
    ((heading, who),) = days_of(output)
    assert heading == day
    assert "Maren" in who
    assert "Osric" in who
    assert cli(*asked, "--day", date, "--for", "Osric").status == 0
    assert days_of(output) == [next(one for one in osrics if one[0] == day)]


def test_who_or_when_nothing_is_done_is_refused(demo: Path, cli: Cli) -> None:
    output = demo / "days.html"
    asked = ("sheet", demo / "round-table.yaml", "--shop", demo / "shop.yaml", *FROM, "-o", output)
    ended = cli(*asked, "--for", "Marn")
    assert ended.status == 2
    assert "'Marn' does nothing in this plan; did you mean 'Maren'?" in " ".join(ended.err.split())
    ended = cli(*asked, "--day", "2026-12-25")
    assert ended.status == 2
    assert "nobody works on Fri 25 Dec 2026; days of work are " in " ".join(ended.err.split())
    assert not output.exists()
