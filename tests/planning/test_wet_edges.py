"""How much can be kept wet: by hand, by draws, and on an invented table that is too large for one person."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from finplan.calendar import plan_calendar
from finplan.catalogue import bundled_catalogue
from finplan.climate import STANDARD, Air, kept_wet, open_time
from finplan.data import plan_data
from finplan.planning import Plan, Wishes, read_sources
from finplan.quantity import Range
from finplan.reading import Written
from finplan.sheet import sheet_html
from finplan.telling import wet_edge_lines
from tests.plans import plan_of

CATALOGUE = bundled_catalogue()
TABLE = Path(__file__).parents[1] / "pieces" / "long-table.yaml"
NOW = datetime(2027, 3, 1, 6, tzinfo=UTC)
OILED = TABLE.read_text(encoding="utf-8").replace("tinted-oil-2k", "hardwax-oil")
ONE = """\
shop: Alder Yard
holidays: GB
climate:
  day: {from: 7:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 55 %}
"""
TWO = (
    "people:\n  - {name: Osric, hours: {mon-fri: 8:00-17:00}}\n"
    "  - {name: Wenna, hours: {mon-fri: 8:00-17:00}, skills: [coating]}\n"
)


def planned(shop: str, piece: str | None = None) -> Plan:
    written = Written(Path("table.yaml"), TABLE.read_text(encoding="utf-8") if piece is None else piece)
    sources = read_sources([written], Written(Path("shop.yaml"), shop))
    return plan_of(sources, now=NOW, wishes=Wishes(answers=False))


def test_a_surface_that_dries_twice_as_fast_stays_open_half_as_long() -> None:
    """By its own law; one that doubles in ten degrees gives half at 33 °C, and a cold shop gives no more."""
    for name in ("tinted-oil-2k", "oil-varnish", "waterborne-polyurethane"):
        finish = CATALOGUE.finishes[name]
        label = open_time(finish, CATALOGUE, STANDARD)
        warm = open_time(finish, CATALOGUE, Air(33.0, 50.0))
        cold = open_time(finish, CATALOGUE, Air(13.0, 50.0))
        assert label is not None
        assert warm is not None
        assert 0.35 < warm.typical / label.typical < 0.8, name
        assert cold == label, name


def test_dry_air_closes_a_film_of_water_sooner() -> None:
    finish = CATALOGUE.finishes["acrylic-enamel"]
    dry, damp = (open_time(finish, CATALOGUE, Air(23.0, humidity)) for humidity in (30.0, 50.0))
    assert dry is not None
    assert damp is not None
    assert dry.typical < damp.typical


def test_wax_and_what_is_sprayed_have_no_wet_edge() -> None:
    assert open_time(CATALOGUE.finishes["paste-wax"], CATALOGUE, STANDARD) is None
    assert open_time(CATALOGUE.finishes["lacquer-toner"], CATALOGUE, STANDARD) is None


def test_what_a_person_keeps_wet_is_speed_times_time_as_draws_have_it() -> None:
    """A million draws of two independent lognormals with numpy."""
    speed, time = Range(6.0, 12.0, 20.0), Range(3 / 60, 8 / 60, 15 / 60)
    random = np.random.default_rng(1)
    spread = [np.log(one.high / one.low) / (2 * 1.6448536) for one in (speed, time)]
    draws = 1.6 * np.exp(spread[0] * random.standard_normal(10**6) + spread[1] * random.standard_normal(10**6))
    found = kept_wet(time, speed)
    assert found.typical == pytest.approx(1.6)
    assert (found.low, found.high) == pytest.approx(tuple(np.quantile(draws, (0.05, 0.95))), rel=0.01)


def test_a_top_of_2_4_m_is_divided_by_one_person() -> None:
    """2.4 m by 0.98 m are 2.3 m²; wiping 12 m² in an hour, one person has wiped on and off 1.6 m² in eight minutes."""
    plan = planned(ONE)
    edge = next(one for one in plan.wet_edges if one.part == "top")
    assert edge.area_m2 == pytest.approx(2.4 * 0.98, rel=0.02)
    assert edge.plans_m2 == pytest.approx(12 * 8 / 60)
    assert (edge.alone, edge.helper, edge.wiped) == (2, None, True)
    (line,) = wet_edge_lines(edge.of_step, edge.side, plan)
    assert "the top has 2.3 m², one person wipes off 1.6 m² in 8 min" in line
    assert "2 strips along the grain" in line
    assert line in sheet_html(plan)
    assert "2 strips along the grain" in plan_calendar(plan, NOW).decode().replace("\r\n ", "")
    assert edge.row in {one.row for one in plan_data(plan).wet_edges}


def test_whoever_is_free_then_helps() -> None:
    """Wiped off after 15 minutes, a top of 3.4 m by 0.98 m is more than the 3 m² that one person keeps wet."""
    plan = planned(ONE + TWO, OILED.replace("length: 2400", "length: 3400"))
    edge = next(one for one in plan.wet_edges if one.part == "top")
    row = next(step for step in plan.timetable.steps if step.id == edge.row)
    others = {"Osric", "Wenna"} - {row.person}
    busy = {
        step.person for step in plan.timetable.steps if step.person and step.start < row.end and row.start < step.end
    }
    assert edge.alone == 2
    assert edge.helper == (None if others & busy else others.pop())
    if edge.helper is not None:
        assert edge.together == 1
        assert f"{edge.helper} is free then and helps" in wet_edge_lines(edge.of_step, edge.side, plan)[0]


def test_nobody_helps_where_nobody_else_may_be_in_the_room() -> None:
    """Its hardener is isocyanate: everybody else is out of the room, by the same sheet."""
    plan = planned(ONE + TWO)
    edge = next(one for one in plan.wet_edges if one.part == "top")
    assert edge.helper is None
    (line,) = wet_edge_lines(edge.of_step, edge.side, plan)
    assert "2 strips along the grain" in line
    assert "Everybody else is out of the room" in sheet_html(plan)


def test_a_small_top_is_said_nothing_of() -> None:
    small = TABLE.read_text(encoding="utf-8").replace("length: 2400", "length: 1400")
    plan = planned(ONE, small)
    assert all(edge.alone == 1 for edge in plan.wet_edges)
    assert "strips along the grain" not in sheet_html(plan)


def test_a_film_asks_for_one_strip_to_be_wet() -> None:
    """Waterborne keeps 8 m²/h · 3 min = 0.4 m²: a strip of 150 mm may be 2.7 m long."""
    varnished = TABLE.read_text(encoding="utf-8").replace("tinted-oil-2k", "waterborne-polyurethane")
    brushed = ONE + "methods: [brush, hand]\n"
    assert {one.alone for one in planned(brushed, varnished).wet_edges} == {1}
    longer = planned(brushed, varnished.replace("length: 2400", "length: 3400"))
    edge = next(one for one in longer.wet_edges if one.part == "top")
    assert edge.asks_m2 == pytest.approx(3.4 * 0.15)
    assert (edge.alone, edge.wiped) == (2, False)
