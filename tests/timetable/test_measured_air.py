"""Air that was measured while a coat dried: when it is dry, worked out anew quarter by quarter by code of its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.climate import Measured, Weather, air_along, air_table
from finplan.inputs import Reading
from finplan.planning import PlannedPiece, Wishes, job_of
from finplan.telling import notes_told
from finplan.timetable import first_stretches, wet_coats
from tests.timetable.own_air import STEP, OwnAir
from tests.timetable.shops import NOW, ONE_PERSON, plan, read, rest_of, shelf

EVENING = datetime(2027, 3, 8, 16, 30, tzinfo=UTC)
MORNING = datetime(2027, 3, 9, 8, 0, tzinfo=UTC)
COATS = ["hardwax-oil", "oil-varnish", "acrylic-enamel"]
"""Their second step waits until the first coat is fit to be recoated."""


def _first_coat(pieces: tuple[PlannedPiece, ...]) -> str:
    return next(one.id for one in pieces[0].operations if one.finish is not None)


def _done(pieces: tuple[PlannedPiece, ...]) -> dict[str, datetime]:
    """The first coat of a piece and all before it, the coat on at half past four."""
    names = [one.id for one in pieces[0].operations]
    coat = _first_coat(pieces)
    before = dict.fromkeys(names[: names.index(coat)], EVENING - timedelta(hours=2))
    return {**before, coat: EVENING}


def _dry_from(pieces: tuple[PlannedPiece, ...], *measured: Measured) -> datetime:
    wishes = Wishes(answers=False, done=_done(pieces), measured=measured)
    (wet,) = wet_coats(job_of(pieces, [None], MORNING, wishes))
    assert wet.dry_from is not None
    return wet.dry_from


@pytest.mark.parametrize("system", COATS)
@pytest.mark.parametrize("air", [(9.0, 65.0), (4.0, 70.0), (30.0, 40.0), (16.0, 55.0)], ids=str)
def test_a_night_as_measured_by_code_of_its_own(system: str, air: tuple[float, float], tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf(system)], ONE_PERSON)
    coat = next(one for one in pieces[0].operations if one.finish is not None)
    shop, catalogue = pieces[0].source.shop, pieces[0].source.catalogue
    own = OwnAir(shop, catalogue, EVENING - timedelta(days=1), EVENING + timedelta(days=20))
    for number in range(len(own.steps)):
        if EVENING <= own.first + number * STEP < MORNING:
            own.steps[number] = air
    finish = catalogue.finishes[coat.coated_with]
    thick = max(coat.thickness, 1.0) ** 2
    expected = own.reached(finish, "through", EVENING, finish.recoat_h.typical * thick)
    assert expected is not None
    found = _dry_from(pieces, Measured(EVENING, MORNING, *air))
    slack = own.tolerance(finish) * (expected - EVENING) + timedelta(minutes=5)
    assert expected - timedelta(minutes=1) <= found.astimezone(UTC) <= expected + slack


@pytest.mark.parametrize("system", COATS)
def test_colder_is_later_and_warmer_no_later(system: str, tmp_path: Path) -> None:
    """Most of the night from 8 March is at 16 °C in this shop."""
    pieces = read(tmp_path, [shelf(system)], ONE_PERSON)
    usual = _dry_from(pieces)
    colder = [_dry_from(pieces, Measured(EVENING, MORNING, air_c, None)) for air_c in (12.0, 8.0, 4.0)]
    assert usual <= colder[0] <= colder[1] <= colder[2]
    assert usual < colder[2]
    assert _dry_from(pieces, Measured(EVENING, MORNING, 26.0, None)) <= usual


@pytest.mark.parametrize("system", COATS)
def test_however_warm_it_was_never_sooner_than_the_label_says(system: str, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf(system)], ONE_PERSON)
    coat = next(one for one in pieces[0].operations if one.finish is not None)
    label_h = pieces[0].source.catalogue.finishes[coat.coated_with].recoat_h.typical
    warm = Measured(EVENING - timedelta(hours=3), EVENING + timedelta(days=10), 40.0, 20.0)
    assert _dry_from(pieces, warm) >= EVENING + timedelta(hours=label_h)


def test_the_next_coat_waits_for_one_that_had_a_cold_night(tmp_path: Path) -> None:
    """What it would do in the shop's usual air it does later, and nothing before it is dry."""
    pieces = read(tmp_path, [shelf()], ONE_PERSON)
    planned = plan(pieces, now=NOW + timedelta(days=7), wishes=Wishes(answers=False, asap=True))
    found = {}
    for name, measured in (("usual", ()), ("cold", (Measured(EVENING, MORNING, 7.0, 70.0),))):
        wishes = Wishes(answers=False, asap=True, done=_done(pieces), measured=measured)
        kept = rest_of(planned, MORNING, wishes)
        begun = first_stretches(kept.timetable.steps).values()
        first = min((row for row in begun if not row.id.endswith("/clean-up")), key=lambda row: row.start)
        (wet,) = wet_coats(job_of(pieces, [None], MORNING, wishes))
        assert wet.dry_from is not None
        assert first.start >= wet.dry_from
        found[name] = first.start
        told = [note for note in notes_told(kept.timetable) if "by the air as it was measured" in note]
        assert len(told) == len(measured)
    assert found["cold"] > found["usual"]


def test_readings_go_straight_from_one_to_the_next_and_the_last_stands_until_now() -> None:
    rows = (Reading(EVENING, 16.0, 50.0), Reading(EVENING + timedelta(hours=1), 12.0, 58.0))
    pieces = air_along(rows, EVENING, MORNING)
    assert [(one.temperature_c, one.humidity_pct) for one in pieces] == [
        (15.5, 51.0),
        (14.5, 53.0),
        (13.5, 55.0),
        (12.5, 57.0),
        (12.0, 58.0),
    ]
    assert (pieces[0].begins, pieces[-1].begins, pieces[-1].ends) == (EVENING, rows[1].when, MORNING)
    assert air_along(rows, MORNING, MORNING) == ()


def test_what_was_not_measured_stays_and_the_last_word_counts(tmp_path: Path) -> None:
    shop = read(tmp_path, [shelf()], ONE_PERSON)[0].source.shop
    weather = Weather(shop.climate, shop.time_zone)
    first = Measured(EVENING, MORNING, 9.0, None)
    second = Measured(EVENING + timedelta(hours=5), EVENING + timedelta(hours=6), None, 80.0)
    usual = air_table(weather, EVENING - timedelta(hours=2), 3)
    table = air_table(weather, EVENING - timedelta(hours=2), 3, (first, second, replace(second, temperature_c=5.0)))
    at = {hours: table.at(hours * 60) for hours in (1, 3, 7.5, 10, 18)}
    assert at[1] == usual.at(60)
    assert at[18] == usual.at(18 * 60)
    assert (at[3].temperature_c, at[3].humidity_pct) == (9.0, 50.0), "until six it is day"
    assert (at[10].temperature_c, at[10].humidity_pct) == (9.0, 55.0)
    assert (at[7.5].temperature_c, at[7.5].humidity_pct) == (5.0, 80.0)
