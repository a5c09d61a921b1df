"""What a job costs: held against sums done by hand with the prices of an invented shop, and against draws."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from finplan.costing import CHARGED_WORK, Cost, Quote, charged_work_of
from finplan.data import as_json, quote_data
from finplan.inputs import Skill
from finplan.material import ConsumableNeed, Term, cause
from finplan.planning import Plan, Wishes, read_sources
from finplan.problems import RefusedError
from finplan.quantity import Range
from finplan.reading import Money, Written
from finplan.sheet import offer_html
from finplan.sheet.care import care_cards
from finplan.telling import WORK_DONE, quote_told, without_words
from finplan.timetable import all_operations
from tests.conftest import Cli
from tests.plan_guide import read_schema
from tests.plan_schema import ANSWERS
from tests.plans import plan_of
from tests.timetable.shops import NOW

PIECE = """\
piece: Tray for a window seat
customer: The seat's owner
timber: ash
system: hardwax-oil
deliver: 2027-03-12
lengths: mm
parts:
  tray: {shape: rectangle, length: 600, width: 300, thickness: 18}
"""
SERVES = ("abrade", "abrade-again", "clean-up", "joints")
"""What is charged and serves what is told: brushes are cleaned, joints and coats smoothed for the next coat."""
SHOP = """\
shop: Kiln Row joiners
holidays: GB
rates: {hour: 40 GBP, sanding: 30 GBP / h, cleaning: 20 GBP}
vat: 20 %
prices:
  hardwax-oil: {250 ml: 25 GBP, 1 l: 60 GBP}
  white-spirit: {500 ml: 5 GBP}
"""
REST = """\
  disc-150: {5: 6.25 GBP}
  sheet: {10: 9 GBP}
  lint-free-cloth: {50: 12.50 GBP}
  tack-cloth: {3: 4.50 GBP}
  mixing-cup: {10: 3 GBP}
  lining-paper: {10: 8 GBP}
  nitrile-gloves: {100: 14 GBP}
  dust-mask: {10: 12 GBP}
  organic-vapour-cartridge: {1: 18 GBP}
  oily-waste-can: {1: 70 GBP}
"""


def planned(shop: str = SHOP, piece: str = PIECE) -> Plan:
    files = [Written(Path("tray.yaml"), piece)]
    sources = read_sources(files, Written(Path("shop.yaml"), shop))
    return plan_of(sources, now=NOW, wishes=Wishes(answers=False))


@pytest.fixture(scope="module")
def plan() -> Plan:
    return planned()


@pytest.fixture(scope="module")
def quote(plan: Plan) -> Quote:
    return plan.quote


def refused(shop: str = SHOP, piece: str = PIECE) -> list[str]:
    with pytest.raises(RefusedError) as caught:
        planned(shop, piece)
    return [f"{problem.where}: {problem.wrong}" for problem in caught.value.problems]


def test_the_hours_are_the_minutes_of_the_timetable(plan: Plan, quote: Quote) -> None:
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    worked_h = sum((row.end - row.start).total_seconds() for row in rows) / 3600
    assert sum(one.hours.typical for one in quote.hours) == pytest.approx(worked_h)
    assert {one.kind for one in quote.hours} <= {*get_args(Skill), "cleaning"}
    cleaned = [row for row in rows if row.deed == "clean-up"]
    cleaning = next(one for one in quote.hours if one.kind == "cleaning")
    assert cleaning.hours.typical == pytest.approx(sum((r.end - r.start).total_seconds() for r in cleaned) / 3600)


def test_every_operation_has_a_kind(plan: Plan) -> None:
    for one in all_operations(plan.pieces[0].operations):
        assert charged_work_of(one, plan.catalogue) in CHARGED_WORK


def test_an_hour_costs_its_own_rate_or_that_of_any(quote: Quote) -> None:
    rates = {one.kind: one.rate for one in quote.hours}
    assert rates["sanding"] == 30
    assert rates["cleaning"] == 20
    assert rates["coating"] == 40
    for one in quote.hours:
        assert one.cost is not None
        assert one.cost.typical == pytest.approx(Decimal(str(one.hours.typical)) * (one.rate or 0), abs=Decimal("0.01"))


def test_materials_are_used_in_part_and_bought_in_packs(quote: Quote) -> None:
    """250 ml at 25 is 10 pence a millilitre; what is left of what is bought is bought less used."""
    oil = next(one for one in quote.goods if one.title.startswith("Hardwax"))
    assert not isinstance(oil.of, ConsumableNeed)
    assert [(pack.count, pack.size) for pack in oil.of.buy] == [(1, 250.0)]
    assert oil.worth is not None
    assert oil.worth.typical == round(Decimal(str(oil.used.typical)) * Decimal("0.1"), 2)
    assert oil.bought == Decimal(25)
    assert oil.left == pytest.approx(250 - oil.used.typical)
    assert oil.left_worth == pytest.approx(Decimal(25) - oil.worth.typical, abs=Decimal("0.01"))


def test_what_has_no_price_is_named_and_never_nothing(quote: Quote) -> None:
    unpriced = [one.title for one in quote.goods if one.worth is None]
    assert any("cloth" in title for title in unpriced)
    assert set(quote.without) == set(unpriced)
    known = sum((one.worth.typical for one in quote.goods if one.worth is not None), Decimal(0))
    assert quote.materials is not None
    assert quote.materials.typical == pytest.approx(known, abs=Decimal("0.01"))
    assert without_words(quote, "metric").startswith("without ")
    told = quote_told(quote, "metric")
    assert told.tables[-1].rows[-1][0] == "Total without what is named below"
    assert any("The total is without" in note for note in told.notes)
    assert " mm" in without_words(quote, "metric")
    assert " mm" not in without_words(quote, "us")


def test_the_total_is_its_parts_and_the_tax(quote: Quote) -> None:
    assert quote.work is not None
    assert quote.materials is not None
    assert quote.net is not None
    assert quote.net.typical == pytest.approx(quote.work.typical + quote.materials.typical, abs=Decimal("0.01"))
    assert quote.vat is not None
    assert quote.gross is not None
    assert quote.vat.typical == round(quote.net.typical / 5, 2)
    assert quote.gross.typical == quote.net.typical + quote.vat.typical
    assert quote.net.low < quote.net.typical < quote.net.high


def test_the_range_of_the_total_is_what_draws_say(quote: Quote) -> None:
    """Work of a sort by a lognormal each, materials likewise: a million draws with numpy, none of the shop's code."""
    random = np.random.default_rng(20270301)
    draws = np.zeros(1_000_000)
    takes = np.log(1.3 / 0.77) / (2 * 1.6448536)
    by_sort: dict[Any, float] = {}
    for one in quote.hours:
        for term in one.terms:
            key = term.causes[0].of
            by_sort[key] = by_sort.get(key, 0.0) + term.typical * float(one.rate or 0)
    for typical in by_sort.values():
        draws += typical * np.exp(takes * random.standard_normal(len(draws)))
    for good in quote.goods:
        if good.worth is not None and good.worth.high:
            low, typical, high = (float(one) for one in (good.worth.low, good.worth.typical, good.worth.high))
            draws += typical * np.exp(np.log(high / low) / (2 * 1.6448536) * random.standard_normal(len(draws)))
    low, high = np.quantile(draws, (0.05, 0.95))
    assert quote.net is not None
    assert float(quote.net.low) == pytest.approx(low, rel=0.01)
    assert float(quote.net.high) == pytest.approx(high, rel=0.01)


def test_no_machine_is_charged_unless_its_rate_is_given(quote: Quote) -> None:
    assert quote.machine is None
    assert quote.machine_h.typical > 0
    charged = planned(SHOP.replace("hour: 40 GBP", "hour: 40 GBP, machine: 6 GBP")).quote
    assert charged.machine is not None
    assert charged.machine.typical == round(Decimal(str(charged.machine_h.typical)) * 6, 2)
    assert charged.net is not None
    assert quote.net is not None
    assert charged.net.typical - quote.net.typical == pytest.approx(charged.machine.typical, abs=Decimal("0.02"))


def test_a_shop_may_charge_what_it_buys_with_a_markup() -> None:
    quote = planned(SHOP + "charged: bought\nmarkup: 10 %\n").quote
    assert quote.materials == Cost.sure(Decimal(30))
    assert quote.markup == Cost.sure(Decimal(3))
    assert quote.net is not None
    assert quote.work is not None
    assert quote.net.typical == quote.work.typical + Decimal(33)  # thirty, and a tenth of it


def test_a_shop_without_any_price_is_told_so() -> None:
    quote = planned("shop: Kiln Row joiners\nholidays: GB\n").quote
    assert quote.net is None
    assert quote_told(quote, "metric").notes == (
        "Nothing has a price yet: say rates: {hour: 55 EUR} and prices: in the shop file.",
    )


def test_labour_is_an_hour_too() -> None:
    quote = planned("shop: Kiln Row joiners\nholidays: GB\nlabour: 42 / h\n").quote
    assert {one.rate for one in quote.hours} == {Decimal(42)}


@pytest.mark.parametrize(
    ("shop", "piece", "where", "wrong"),
    [
        (SHOP + "  tack-cloth: {3: 4 USD}\n", PIECE, "prices.tack-cloth.3", "in USD, and other amounts are in GBP"),
        (SHOP, PIECE + "prices: {tack-cloth: {3: 4 EUR}}\n", "prices.tack-cloth.3", "other amounts are in GBP"),
        (SHOP + "  tack-clot: {3: 4}\n", PIECE, "prices.tack-clot", "is nothing that is bought"),
        (SHOP + "  tack-cloth: {3 l: 4}\n", PIECE, "prices.tack-cloth.3 l", "is not how it is sold"),
        (SHOP + "  tack-cloth: {3: 4.005}\n", PIECE, "prices.tack-cloth.3", "is finer than a cent"),
        (SHOP + "  tack-cloth: {3: nothing}\n", PIECE, "prices.tack-cloth.3", "is not a sum of money"),
        (SHOP + "labour: 42 / h\n", PIECE, "labour", "is said twice"),
        (SHOP.replace("40 GBP", "0 GBP"), PIECE, "rates.hour", "is nothing"),
        (SHOP + "  polyurethane-2k: {glue: {1 l: 4}}\n", PIECE, "prices.polyurethane-2k.glue", "is no component of it"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_prices_is_told_with_its_place(shop: str, piece: str, where: str, wrong: str) -> None:
    problems = refused(shop, piece)
    assert any(problem.startswith(f"{where}: ") and wrong in problem for problem in problems), problems


def test_a_set_has_one_price_and_so_have_components_apart() -> None:
    """Four parts to one: 1.25 l at 50 is 4 pence a millilitre of the mix, as are 1 l at 40 and 250 ml at 10."""
    piece = PIECE.replace("hardwax-oil", "polyurethane-2k").replace("ash", "sugar-maple")
    for prices in ("{1 l + 250 ml: 50}", "{lacquer: {1 l: 40}, isocyanate hardener: {250 ml: 10}}"):
        shop = f"shop: Kiln Row\nholidays: GB\nmethods: [brush, hand]\nprices: {{polyurethane-2k: {prices}}}\n"
        supplies = planned(shop, piece).materials.supplies
        supply = next(one for one in supplies if one.material == "polyurethane-2k")
        assert supply.price_each == pytest.approx(0.04), prices


def test_the_pieces_own_prices_stand_over_the_shops() -> None:
    quote = planned(SHOP, PIECE + "prices: {hardwax-oil: {250 ml: 50 GBP}}\n").quote
    assert next(one.bought for one in quote.goods if one.title.startswith("Hardwax")) == Decimal(50)


def test_a_sum_of_lognormals_is_no_sum_of_ends() -> None:
    one = Range(80.0, 100.0, 125.0)
    together = Cost.together([Term(100.0, cause("hand", (name,), one)) for name in "abcd"])
    assert together.typical == 400
    assert together.low > 320
    assert together.high < 500


def test_the_json_meets_its_schema(plan: Plan) -> None:
    data = json.loads(as_json(quote_data(plan)))
    Draft202012Validator(read_schema(ANSWERS)).validate(data)
    assert data["currency"] == "GBP"
    assert data["net"]["typical"] == round(data["net"]["typical"], 2)


def test_the_customers_page_has_no_inside_figures(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "tray.yaml").write_text(PIECE, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    page = tmp_path / "offer.html"
    typed = ("quote", tmp_path / "tray.yaml", "--from", "2027-02-01", "--customer", page)
    ended = cli(*typed)
    assert ended.status == 2
    assert "no price" in ended.err
    assert "--price '1450.00 GBP'" in ended.err  # in the money of the shop
    assert not page.exists()
    assert cli(*typed, "--price", "180 GBP").status == 0
    words = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    assert "180.00 GBP" in words
    assert "36.00 GBP" in words
    assert "216.00 GBP" in words
    assert "two coats of hardwax oil" in words
    assert "Friday 12 March 2027" in words
    assert "Fri 12 Mar 2027: It may be touched" in " ".join(words.split()), "not before it is delivered"
    assert not re.search(r"\b\d+ (?:min|h)\b|rate|40\.00|30\.00 GBP", words)


def test_a_rate_is_told_as_it_was_given() -> None:
    """8.88 % of 1450 would come to 128.76."""
    plan = planned(SHOP.replace("vat: 20 %", "vat: 8.875 %\nmarkup: 12.125 %"))
    told = words_of(offer_html(plan, Money(Decimal(1450))))
    assert "VAT, 8.875 % 128.69" in told
    rows = [row[0] for table in quote_told(plan.quote, "metric").tables for row in table.rows]
    assert "Markup on materials, 12.125 %" in rows
    assert "VAT, 8.875 %" in rows


def test_the_offer_asks_what_is_typical_where_all_has_a_price() -> None:
    plan = planned(SHOP + REST)
    assert plan.quote.complete, plan.quote.without
    can = next(one for one in plan.quote.goods if one.title.startswith("Covered metal can"))
    assert (can.bought, can.worth) == (Decimal(70), Cost.sure(Decimal(0)))  # it is bought, and serves the next job too
    assert plan.quote.net is not None
    assert f"{round(plan.quote.net.typical)}.00 GBP" in offer_html(plan)


SIDEBOARD = """\
piece: Flap of a wall desk
timber: walnut
system: shellac
refinish: {built: 1928, strip: chemical}
before: [steam-dents, repair-veneer, fill-pores]
after: [wax-runners, hardware: 4, touch-up-kit, wrap]
sample: approve by 2027-04-02
deliver: 2027-05-14
lengths: mm
parts:
  door: {shape: board, length: 480, width: 280, thickness: 18}
"""


KEPT = (
    SIDEBOARD.replace("built: 1928, strip: chemical", "built: 1996, keep: true")
    .replace("steam-dents", "putty-holes")
    .replace("sample: approve by 2027-04-02\n", "")
)
"""The same of which the old coating stays: no dents are steamed out under it."""


@pytest.fixture(scope="module")
def charged() -> Plan:
    return planned(SHOP, SIDEBOARD)


def words_of(page: str) -> str:
    found = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL)
    return " ".join(found.split())


def test_the_customer_is_told_all_that_is_charged(charged: Plan) -> None:
    """Every operation is told, or serves one that is: of a step beside the coats the words of its record."""
    told = words_of(offer_html(charged, Money(Decimal(5000)))).lower()
    records = charged.catalogue.extra_steps
    asked = {
        operation.extra for piece in charged.pieces for operation in piece.operations if operation.extra is not None
    }
    assert {"strip-chemical", "lift-old-film", "wash-stripper-off", "steam-dents", "wrap", "approved"} <= asked
    for name in (*asked, "fill-pores"):
        assert records[name].for_customer in told, name
    for one in (operation for piece in charged.pieces for operation in all_operations(piece.operations)):
        if one.deed in WORK_DONE:
            assert WORK_DONE[one.deed] in told, one.id
        else:
            assert one.deed in (*SERVES, "sand", "raise-grain", "fill", "coat", "rub-out", "extra"), one.id
    assert "by friday 2 april 2027" in told
    assert "sample ready" not in told


def test_who_is_told_to_oil_it_again_is_told_of_the_cloths_too(plan: Plan, charged: Plan) -> None:
    for one, oiled in ((plan, True), (charged, False)):
        told = words_of(offer_html(one, Money(Decimal(900))))
        assert (". Oil again, " in told, one.catalogue.cautions["oily-cloths"].reason in told) == (oiled, oiled)


def test_a_sample_board_has_no_care_card(charged: Plan) -> None:
    wanted = [piece.source.piece.name for piece in charged.pieces if not piece.sample]
    assert len(wanted) < len(charged.pieces)
    assert [card.piece for card in care_cards(charged)] == wanted


def test_every_step_beside_the_coats_has_words_for_a_customer(plan: Plan) -> None:
    for name, record in plan.catalogue.extra_steps.items():
        assert record.for_customer[0].islower(), name
        assert record.for_customer[-1] != ".", name
        assert not re.search(r"\d|\b(?:P\d+|film|solvent)\b", record.for_customer), name


def test_stripping_tests_repairs_and_wrapping_are_lines_of_their_own(charged: Plan) -> None:
    hours = {(one.kind, one.rate): one.hours.typical for one in charged.quote.hours}
    assert {"testing", "stripping", "repairing", "packing"} <= {kind for kind, _ in hours}
    rows = [row for row in charged.timetable.steps if row.kind == "attended"]
    worked_h = sum((row.end - row.start).total_seconds() for row in rows) / 3600
    assert sum(hours.values()) == pytest.approx(worked_h)
    stripped = [row for row in rows if row.extra in ("strip-chemical", "lift-old-film", "wash-stripper-off")]
    stripped_h = sum((row.end - row.start).total_seconds() for row in stripped) / 3600
    assert sum(h for (kind, _), h in hours.items() if kind == "stripping") == pytest.approx(stripped_h)


def test_an_old_coating_that_stays_is_told_with_the_coats_that_are_put_on() -> None:
    plan = planned(SHOP, KEPT.replace("system: shellac", "system: oil-varnish"))
    told = words_of(offer_html(plan, Money(Decimal(900))))
    assert "Oil-based varnish, one coat, over the old coating" in told
    assert "which stays, cleaned of wax and grease" in told
    assert "three coats" not in told


def test_a_coating_that_stays_is_told_with_what_goes_on_it_and_not_with_what_its_system_begins_with() -> None:
    """Of shellac that is waxed only the wax goes on once more: it was offered as one coat of shellac."""
    for system, title, not_told in (
        ("shellac", "Paste wax, one coat, over the old coating", "laid on in many thin coats"),
        ("alkyd-enamel", "Alkyd enamel, one coat, over the old coating", "primer"),
    ):
        plan = planned(SHOP, KEPT.replace("system: shellac", f"system: {system}"))
        told = words_of(offer_html(plan, Money(Decimal(900))))
        assert title in told
        assert not_told not in told
        cards = [row for card in care_cards(plan) for row in card.rows]
        assert [(row.title, row.about) for row in cards] == [(title, "")] * len(cards)


def test_fewer_coats_on_all_faces_are_those_that_are_told() -> None:
    faces = ", ".join(f"{face}: {{coats: 1}}" for face in ("top", "underside", "edge"))
    fewer = PIECE.replace("thickness: 18}", f"thickness: 18, faces: {{{faces}}}}}")
    told = words_of(offer_html(planned(SHOP, fewer), Money(Decimal(90))))
    assert "Hardwax oil, one coat " in told


@pytest.mark.parametrize(
    ("price", "status", "expected"),
    [
        ("180 EUR", 2, "180.00 EUR is in another currency than rates and prices; expected 180.00 GBP"),
        ("20 GBP", 0, "20.00 GBP lies below what the job costs:"),
        ("900", 0, ""),
    ],
)
def test_a_price_is_held_against_the_cost(tmp_path: Path, cli: Cli, price: str, status: int, expected: str) -> None:
    (tmp_path / "tray.yaml").write_text(PIECE, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    page = tmp_path / "offer.html"
    ended = cli("quote", tmp_path / "tray.yaml", "--from", "2027-02-01", "--customer", page, "--price", price)
    said = " ".join((ended.out + ended.err).replace("│", " ").split())
    assert ended.status == status, said
    assert expected in said
    assert ("lies below" in said) == ("below" in expected)
    assert page.exists() == (status == 0)
