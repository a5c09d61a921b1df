"""What a button writes is what was tried: the job that would fit, read back from the files that the button changes.

Each change that is thought of gives the job as it then is (``finplan.timetable.help``, ``planning.changes``); here the
same is reached by way of the files, and both are compared: the air of every hour kind, the hours of everybody on every
day, the steps of every item. No plan is made.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from finplan.forms import usual_shop, write_shop
from finplan.inputs import Climate, Shop
from finplan.page.edits import SetValue, all_edited
from finplan.page.helps import LOGGED, NO_SHOP, Writes, writes_of
from finplan.planning import Plan, read_sources, read_workshop, together
from finplan.planning.changes import ways_of
from finplan.planning.job import job_of
from finplan.reading import Written
from finplan.resources import data_dir
from finplan.timetable import Job, LaterDates, NeverColder, OtherSystem, WouldFit
from finplan.timetable.explain import _with_booth
from finplan.timetable.help.change import Change, Way
from finplan.timetable.help.hands import more_hands
from finplan.timetable.help.heat import more_heat
from tests.plans import plan_of

NOW = datetime(2027, 1, 11, 8, 0, tzinfo=UTC)
LAST = date(2027, 2, 12)
DEMO = (Path(data_dir("catalogue")).parent / "finplan" / "demo" / "files" / "shop.yaml").read_text(encoding="utf-8")
TABLE = (Path(__file__).parents[1] / "pieces" / "round-table.yaml").read_text(encoding="utf-8")
MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
BY_MONTHS = "shop: By months\nclimate:\n  months:\n" + "".join(
    f"    {name}: {{day: {{temperature: {15 + number} degC, humidity: 48 %}}, "
    f"night: {{temperature: {9 + number} degC, humidity: 6{number % 10} %}}}}  # {name}\n"
    for number, name in enumerate(MONTHS)
)
ODD_HOURS = """shop: Odd hours
people:
  - name: Ada
    hours:
      mon-fri: 8:00-12:00      # mornings
      mon, tue: [13:00-17:00]  # and two afternoons
    days:
      6 Feb 2027: 9:00-11:00
      2027-02-13: []
  - {name: Bo, days: {2027-01-12: 8:00-12:00, 2027-01-13: [8:00-10:00, 11:00-12:00]}}
  - {name: One more, hours: {thu: "22:00-6:00"}, skills: [sanding]}
closed: [2027-01-20]
holidays: GB-ENG
"""
SHOPS = {
    "demo": DEMO,
    "begun": write_shop(usual_shop("metric", "Europe/London", "GB-ENG")),
    "begun-us": write_shop(usual_shop("us", "America/Chicago", "US")),
    "bare": "shop: Nothing said\n",
    "months": BY_MONTHS,
    "odd hours": ODD_HOURS,
}
DAYS = [NOW.date() + timedelta(days=n) for n in range((LAST - NOW.date()).days + 1)]


def made(shop: str, piece: str = TABLE) -> tuple[Plan, Job]:
    pieces = together(read_sources([Written(Path("table.yaml"), piece)], Written(Path("shop.yaml"), shop)))
    plan = plan_of(read_sources([Written(Path("table.yaml"), piece)], Written(Path("shop.yaml"), shop)), now=NOW)
    return plan, job_of(pieces, plan.deliveries, NOW, plan.wishes)


def changes(ways: Iterator[Way]) -> list[Change]:
    return [change for way in ways for step in way.steps for change in step]


def writes(change: Change, plan: Plan) -> Writes:
    ready = datetime(LAST.year, LAST.month, LAST.day, 12, tzinfo=UTC)
    found = writes_of(WouldFit(change.remedy, change.kind, ready), plan)
    assert isinstance(found, Writes), (change.remedy, found)
    return found


def shop_of(text: str) -> Shop:
    return read_workshop(Written(Path("shop.yaml"), text)).shop


def air(climate: Climate) -> list[tuple[float, float]]:
    halves = [climate.day, climate.night]
    for pair in (climate.months or {}).values():
        halves += [pair.day, pair.night]
    return [(half.temperature_c, half.humidity_pct) for half in halves if half is not None]


@pytest.mark.parametrize("name", SHOPS)
def test_the_air_that_was_tried_is_the_air_that_is_written(name: str) -> None:
    plan, job = made(SHOPS[name])
    found = changes(more_heat(job))
    assert len(found) > 3
    for change in found:
        wanted = change.job()
        assert wanted is not None
        text = all_edited(SHOPS[name], writes(change, plan).shop)
        for (celsius, humidity), (meant, humid) in zip(
            air(shop_of(text).climate), air(wanted.shop.climate), strict=True
        ):
            assert meant <= celsius + 1e-9 < meant + 0.06  # a tenth of a degree Fahrenheit
            assert humidity == humid


@pytest.mark.parametrize("name", SHOPS)
def test_the_hours_that_were_tried_are_the_hours_that_are_written(name: str) -> None:
    plan, job = made(SHOPS[name])
    found = changes(more_hands(job, LAST))
    assert len(found) > 20
    for change in found:
        wanted = change.job()
        assert wanted is not None
        shop = shop_of(all_edited(SHOPS[name], writes(change, plan).shop))
        assert len(shop.people) == len(wanted.shop.people)
        for one, meant in zip(shop.people, wanted.shop.people, strict=True):
            assert set(one.skills) == set(meant.skills)
            for day in DAYS:
                hours, of_trial = shop.shifts(one, day), wanted.shop.shifts(meant, day)
                assert hours == of_trial, (change.remedy, one.name, day)


@pytest.mark.parametrize(
    "system", ["hardwax-oil", "shellac", "waterborne-polyurethane", "casein-paint", "catalysed-lacquer"]
)
def test_the_coats_that_were_tried_are_the_coats_that_are_written(system: str) -> None:
    piece = TABLE.replace("system: hardwax-oil", f"system: {system}")
    plan, job = made(SHOPS["begun"], piece)
    found = [one for one in changes(ways_of(plan.pieces, job, None, {job.pieces[0].key})) if one.kind == "coats"]
    for change in found:
        wanted = change.job()
        assert wanted is not None
        edits = writes(change, plan).piece
        (again,) = made(SHOPS["begun"], all_edited(piece, edits))[1].pieces
        assert [one.id for one in again.open] == [one.id for one in wanted.pieces[0].open]


def test_a_booth_and_no_gun_and_other_systems_are_written_as_they_were_tried() -> None:
    text = SHOPS["begun-us"].replace("spray-hvlp, ", "").replace("methods: [", "methods: [spray-hvlp, ")
    system = next(one for one in sorted(read_workshop(None).catalogue.systems) if _sprays(text, one))
    piece = TABLE.replace("system: hardwax-oil", f"system: {system}")
    plan, job = made(text, piece)
    found = [*changes(_with_booth(job)), *changes(ways_of(plan.pieces, job, None, {job.pieces[0].key}))]
    kinds = {change.kind for change in found}
    assert "booth" in kinds
    for change in found:
        wanted, edits = change.job(), writes(change, plan)
        assert wanted is not None
        if change.kind == "coats":
            continue
        shop_text, piece_text = all_edited(text, edits.shop), all_edited(piece, edits.piece)
        plan_then, then = made(shop_text, piece_text)
        assert [one.id for one in then.pieces[0].open] == [one.id for one in wanted.pieces[0].open]
        if change.kind == "booth":
            for name, room in wanted.shop.rooms.items():
                if room.booth is not None:
                    written = plan_then.shop.rooms[name].booth
                    assert written is not None
                    assert written.flow_m3_h == pytest.approx(room.booth.flow_m3_h, rel=0.02)


def _sprays(shop: str, system: str) -> bool:
    try:
        _, job = made(shop, TABLE.replace("system: hardwax-oil", f"system: {system}"))
    except Exception:
        return False
    return any(one.sprays for one in job.pieces[0].open)


def test_each_button_says_what_it_writes_and_nothing_else_of_the_file_changes() -> None:
    plan, job = made(DEMO)
    change = next(iter(changes(more_heat(job))))
    found = writes(change, plan)
    assert found.words("table.yaml") == ("writes into shop.yaml: climate.night.temperature: 14 degC",)
    assert all_edited(DEMO, found.shop) == DEMO.replace("night: {temperature: 13", "night: {temperature: 14")
    fit = WouldFit(LaterDates(((None, datetime(2027, 3, 1, 9, 30, tzinfo=UTC)),)), "date", NOW)
    later = writes_of(fit, plan)
    assert isinstance(later, Writes)
    assert later.words("table.yaml") == ("writes into table.yaml: deliver: 2027-03-01 09:30",)
    other = writes_of(WouldFit(OtherSystem("shellac", None, None, (), False), "system", NOW), plan)
    assert isinstance(other, Writes)
    assert other.piece == (SetValue(path=("system",), value="shellac"),)


def test_where_nothing_can_be_written_it_says_why(tmp_path: Path) -> None:
    fit = WouldFit(NeverColder(21), "heat", NOW)
    no_shop = plan_of(read_sources([Written(Path("table.yaml"), TABLE)], None), now=NOW)
    assert writes_of(fit, no_shop) == NO_SHOP
    rows = "".join(
        f"2027-{1 + n // 28:02d}-{1 + n % 28:02d} {h:02d}:00,18,50\n" for n in range(28) for h in (0, 5, 10, 15, 20)
    )
    (tmp_path / "log.csv").write_text(f"time,temperature,humidity\n{rows}")
    shop = Written(tmp_path / "shop.yaml", "shop: Logged\nclimate: {log: log.csv}\n", tmp_path)
    logged = plan_of(read_sources([Written(Path("table.yaml"), TABLE)], shop), now=NOW)
    assert writes_of(fit, logged) == LOGGED
