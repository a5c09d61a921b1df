"""What would help where a date cannot be kept, or not surely: each change is made in the files, and planned anew."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
import yaml

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Shift
from finplan.planning import PlannedPiece, Wishes, compare_systems
from finplan.resources import data_dir
from finplan.telling import remedy_words
from finplan.timetable import FewerCoats, MoreHands, NeverColder, OtherSystem, Remedy, Timetable, WarmerNights, WouldFit
from tests.timetable.read_back import Planned
from tests.timetable.shops import LOGGED, NOW, ONE_PERSON, log_text, plan, read, shelf
from tests.timetable.verifier import broken_rules

ASAP = Wishes(answers=False, asap=True)
COLD = ONE_PERSON.replace("16 degC", "11 degC")
FRIDAY = datetime(2027, 3, 12, 9, tzinfo=UTC)
EVENING = datetime(2027, 3, 2, 16, 30, tzinfo=UTC)
SATURDAY = "2027-03-13"
USUAL = "[8:00-12:00, 12:30-17:00]"
NEARNESS = ["start", "heat", "person", "hours", "saturday", "method", "coats", "system", "other system", "date"]
MANY = 3

# System, number of boards, shop, from when on, delivery, and the kinds that have to be among what helps.
LATE = {
    "cold": ("hardwax-oil", 1, COLD, NOW, "2027-03-05 12:00", {"heat", "coats", "other system", "date"}),
    "slow": ("tung-oil", 1, ONE_PERSON, NOW, "2027-03-10", {"system", "other system", "date"}),
    "weekend": ("wax", 1, ONE_PERSON, FRIDAY, "2027-03-15 12:00", {"saturday", "coats", "date"}),
    "evening": ("wax", 1, ONE_PERSON, EVENING, "2027-03-05 8:00", {"hours", "date"}),
    "many": ("wax", MANY, ONE_PERSON, NOW, "2027-03-05 12:00", {"heat", "person", "coats", "date"}),
    "logged": ("hardwax-oil", 1, LOGGED, NOW, "2027-03-04 12:00", {"heat", "date"}),
}

UNSURE = {"cold": "2027-03-05 16:00", "many": "2027-03-08 12:00", "logged": "2027-03-05 12:00"}
"""Dates of the same jobs that are kept, but not in nine of ten cases."""


class Files:
    """The text of the piece and of the shop, as a maker has them, to be edited."""

    def __init__(self, name: str, folder: Path, deliver: str | None = None) -> None:
        self.system, boards, self.shop, self.now, late, self.kinds = LATE[name]
        self.deliver = deliver or late
        self.piece = shelf(self.system, boards)
        if boards == MANY:
            self.piece = self.piece.replace("width: 200", "width: 700, count: 8")
        self.folder = folder
        self.log: str | None = None

    def read(self) -> tuple[PlannedPiece, ...]:
        return read(self.folder, [self.piece], self.shop, self.log)

    def told(self) -> Timetable:
        return plan(self.read(), self.deliver, now=self.now, wishes=Wishes()).timetable

    def planned(self) -> Planned:
        return plan(self.read(), self.deliver, now=self.now, wishes=ASAP)

    def make(self, fit: WouldFit) -> None:
        """Make a change that was offered, in the files."""
        words = remedy_words(fit.change)
        match fit.kind:
            case "heat":
                self.warm(words)
            case "person":
                days = "each day" if words.endswith("each day") else words
                self.help_on(days)
            case "hours" if words.endswith("each day"):
                self.shop = self.shop.replace("12:30-17:00", "12:30-19:00").replace(
                    "fri: 8:00-13:00", "fri: 8:00-15:00"
                )
            case "hours" | "saturday":
                self.own_days({_day(words, self.now): _hours(words)})
            case "coats":
                self.fewer({"one": 1, "two": 2}[words.split()[0]])
            case "system" | "other system":
                self.use(words.split("'")[1])
            case "date":
                self.deliver = re.search(r"\d{4}-\d\d-\d\d \d\d:\d\d", words).group()  # type: ignore[union-attr]

    def warm(self, words: str) -> None:
        degrees = re.search(r"(\d+) °C", words).group(1)  # type: ignore[union-attr]
        if self.shop is LOGGED:
            self.log = _never_colder(float(degrees))
            return
        self.shop = re.sub(r"night: \{temperature: \d+ degC", f"night: {{temperature: {degrees} degC", self.shop)
        if "day and night" in words:
            self.shop = self.shop.replace("temperature: 20 degC", f"temperature: {degrees} degC")

    def help_on(self, words: str) -> None:
        if words == "each day":
            hours = f"hours: {{mon-thu: {USUAL}, fri: 8:00-13:00}}"
        else:
            hours = f"days: {{{_day(words, self.now)}: {_hours(words)}}}"
        self.shop = self.shop.replace("climate:", f"  - {{name: Help, {hours}}}\nclimate:", 1)

    def own_days(self, days: dict[str, str]) -> None:
        told = ", ".join(f"{day}: {hours}" for day, hours in days.items())
        self.shop = self.shop.replace("fri: 8:00-13:00}}", f"fri: 8:00-13:00}}, days: {{{told}}}}}")

    def fewer(self, coats: int) -> None:
        """Write a system of the shop's own: the same with so many coats fewer, and the abrading before them."""
        record = yaml.safe_load((data_dir("catalogue") / "systems.yaml").read_text(encoding="utf-8"))[self.system]
        steps = list(record["steps"])
        for _ in range(coats):
            coated = [number for number, step in enumerate(steps) if step["do"] == "coat"]
            del steps[coated[-2] + 1 : coated[-1] + 1]
        own = {"own": {"like": self.system, "title": "Own", "steps": steps}}
        (self.folder / "records").mkdir(exist_ok=True)
        (self.folder / "records" / "systems.yaml").write_text(yaml.safe_dump(own), encoding="utf-8")
        self.shop += "records: records\n"
        self.use("own")

    def use(self, system: str) -> None:
        self.piece = self.piece.replace(f"system: {self.system}", f"system: {system}")


def _day(words: str, now: datetime) -> str:
    """Return the day of March that is told, such as ``Thu 4 Mar``."""
    number = re.search(r"on \w{3} (\d+) Mar", words).group(1)  # type: ignore[union-attr]
    assert f"{date(now.year, 3, int(number)):%a}" in words
    return f"2027-03-{int(number):02}"


def _hours(words: str) -> str:
    found = re.findall(r"(\d\d:\d\d)–(\d\d:\d\d)", words)
    assert found
    return f"[{', '.join(f'{begins}-{ends}' for begins, ends in found)}]"


def _never_colder(lowest_c: float) -> str:
    head, *rows = log_text().splitlines()
    warmed = []
    for row in rows:
        when, temperature, humidity = row.split(",")
        warmed.append(f"{when},{max(float(temperature), lowest_c):.2f},{humidity}")
    return "\n".join([head, *warmed]) + "\n"


_OFFERED: dict[str, tuple[WouldFit, ...]] = {}


def offered(name: str, folder: Path) -> tuple[WouldFit, ...]:
    """Return what is offered for a date that cannot be kept; each is asked for once."""
    if name not in _OFFERED:
        timetable = Files(name, folder).told()
        assert timetable.status == "impossible"
        _OFFERED[name] = timetable.clashes[0].would_fit
    return _OFFERED[name]


def _unlike(fit: WouldFit, own: str) -> tuple[bool, int]:
    """Return how far a system of the same kind is from one's own: of another family, and what its ratings lose."""
    if fit.kind != "system" or not isinstance(fit.change, OtherSystem):
        return False, 0
    systems = bundled_catalogue().systems
    before, after = systems[own].ratings, systems[fit.change.system].ratings
    falls = (getattr(before, name) - getattr(after, name) for name in ("water", "heat", "wear"))
    return fit.change.family is not None, sum(max(0, fall) for fall in falls)


@pytest.mark.parametrize("name", LATE)
def test_what_is_offered_keeps_the_date_once_it_is_in_the_files(name: str, tmp_path: Path) -> None:
    fits = offered(name, tmp_path)
    assert LATE[name][5] <= {fit.kind for fit in fits}
    # The nearest comes first, of systems the most alike, and of what is as near what gains most.
    order = [(NEARNESS.index(fit.kind), _unlike(fit, LATE[name][0]), -(fit.gain_h or 0.0)) for fit in fits]
    assert order == sorted(order)
    for fit in fits:
        files = Files(name, tmp_path)
        files.make(fit)
        planned = files.planned()
        assert planned.timetable.has_plan, fit.change
        assert broken_rules(planned) == [], fit.change
        assert planned.timetable.ready is not None
        assert planned.timetable.ready <= fit.ready, fit.change
        if fit.gain_h is not None:
            assert fit.gain_h > 0
            assert 0 <= (fit.gain_working_h or 0) <= fit.gain_h
        # The plan that is searched for anew may be another, but no worse.
        assert planned.timetable.in_time_probability is not None
        assert fit.in_time is not None
        assert planned.timetable.in_time_probability > fit.in_time - 0.05, fit.change


@pytest.mark.parametrize("name", UNSURE)
def test_what_would_make_a_date_surer_does_so_once_it_is_in_the_files(name: str, tmp_path: Path) -> None:
    files = Files(name, tmp_path, UNSURE[name])
    timetable = files.told()
    assert timetable.has_plan
    assert timetable.in_time_probability is not None
    assert timetable.in_time_probability < timetable.in_time_wanted == 0.9
    fits = timetable.would_be_sure
    order = [(NEARNESS.index(fit.kind), -(fit.in_time or 0.0)) for fit in fits]
    assert order == sorted(order)
    assert order
    for fit in fits:
        assert fit.in_time is not None
        assert fit.in_time >= 0.9, fit.change
        files = Files(name, tmp_path, UNSURE[name])
        files.make(fit)
        planned = files.planned()
        assert broken_rules(planned) == [], fit.change
        assert planned.timetable.in_time_probability is not None
        assert planned.timetable.in_time_probability > 0.85, fit.change
    kinds = {fit.kind for fit in fits}
    assert "date" in kinds
    for change in every_change(name, UNSURE[name]):
        if change.kind not in kinds:
            files = Files(name, tmp_path, UNSURE[name])
            files.make(change)
            assert (files.planned().timetable.in_time_probability or 0.0) < 0.95, change.change


def test_nothing_is_offered_where_a_date_is_sure_enough(tmp_path: Path) -> None:
    timetable = Files("cold", tmp_path, "2027-03-19").told()
    assert timetable.in_time_probability is not None
    assert timetable.in_time_probability >= 0.9
    assert timetable.would_be_sure == ()


def every_change(name: str, deliver: str | None = None) -> list[WouldFit]:
    """Return all that a maker could think of, whether it helps or not: the most of each kind, and every system."""
    _, _, _, now, late, _ = LATE[name]
    deliver = deliver or late
    last = date.fromisoformat(deliver.partition(" ")[0])
    days = [now.date() + timedelta(days=n) for n in range((last - now.date()).days + 1)]
    usual = (Shift(8 * 60, 12 * 60), Shift(12 * 60 + 30, 17 * 60))
    ready = datetime(2028, 1, 1, tzinfo=UTC)
    changes = [WouldFit(NeverColder(23), "heat", ready)]
    changes += [WouldFit(MoreHands(None, longer_h=0.0, on="each-day", shifts=()), "person", ready)]
    changes += [WouldFit(MoreHands("Wynn", longer_h=2.0, on="each-day", shifts=()), "hours", ready)]
    saturdays = [MoreHands("Wynn", longer_h=0.0, on=day, shifts=usual) for day in days if day.weekday() == 5]
    changes += [WouldFit(saturday, "saturday", ready) for saturday in saturdays]
    changes += [WouldFit(FewerCoats(1, None), "coats", ready)]
    return changes


@pytest.mark.parametrize("name", ["cold", "slow", "weekend", "evening", "logged"])
def test_what_is_left_out_does_not_help(name: str, tmp_path: Path) -> None:
    kinds = {fit.kind for fit in offered(name, tmp_path)}
    for change in every_change(name):
        if change.kind not in kinds:
            files = Files(name, tmp_path)
            files.make(change)
            assert files.planned().timetable.status == "impossible", change.change


@pytest.mark.parametrize("name", ["cold", "slow"])
def test_systems_of_the_same_kind_that_are_left_out_do_not_help(name: str, tmp_path: Path) -> None:
    own = LATE[name][0]
    named = {remedy_words(fit.change).split("'")[1] for fit in offered(name, tmp_path) if fit.kind == "system"}
    oils = {"hardwax-oil", "linseed-oil", "tung-oil", "oil-varnish-blend"}  # one more holds isocyanate
    assert named <= oils
    for system in oils - named - {own}:
        files = Files(name, tmp_path)
        files.use(system)
        assert files.planned().timetable.status == "impossible", system


def test_no_system_is_offered_that_is_a_risk_on_that_timber(tmp_path: Path) -> None:
    """On oak, where what is thinned with water may stain: what ``systems`` marks so is not among what would fit."""
    files = Files("slow", tmp_path)
    files.piece = files.piece.replace("ash", "white-oak")
    assert "white-oak" in files.piece
    fits = files.told().clashes[0].would_fit
    offered_systems = {fit.change.system for fit in fits if isinstance(fit.change, OtherSystem)}
    tried = {one.system: one for one in compare_systems(files.read()[0], now=files.now)}
    assert offered_systems
    assert not any(tried[name].risks for name in offered_systems)
    risky = {name for name, one in tried.items() if one.risks and one.verdict in ("no date", "in time")}
    assert risky, "nothing is a risk here, so that nothing is tried"


def test_a_degree_less_does_not_help(tmp_path: Path) -> None:
    (fit,) = (one for one in offered("cold", tmp_path) if one.kind == "heat")
    degrees = int(re.search(r"\d+", remedy_words(fit.change)).group())  # type: ignore[union-attr]
    files = Files("cold", tmp_path)
    files.make(WouldFit(WarmerNights(0, degrees - 1), "heat", fit.ready))
    assert files.planned().timetable.status == "impossible"


def test_warmth_is_told_in_the_units_of_the_shop() -> None:
    told: dict[Remedy, str] = {
        NeverColder(20): "keep at least 20 °C day and night",
        NeverColder(20, "us"): "keep at least 68 °F day and night",
        WarmerNights(2, 13.5): "keep 13.5 °C at night",
        WarmerNights(2, 15.0, "us"): "keep 59 °F at night",
        WarmerNights(5, None): "nights 5 °C warmer",
        WarmerNights(5, None, "us"): "nights 9 °F warmer",
    }
    assert {remedy: remedy_words(remedy) for remedy in told} == told
