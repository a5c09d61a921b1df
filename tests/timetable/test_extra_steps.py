"""Steps beside the coats: which a piece gets, in which order, how long they take, what they use and wait for."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.catalogue import AFTER, BEFORE, bundled_catalogue
from finplan.planning import PlannedPiece, Wishes, read_source, together
from finplan.problems import RefusedError
from finplan.system import whole_piece_work
from finplan.timetable import Operation
from finplan.timetable.operation import After
from tests.conftest import Cli
from tests.plans import make_plan, plan_of
from tests.timetable.read_back import Planned
from tests.timetable.shops import NOW
from tests.timetable.verifier import broken_rules

CATALOGUE = bundled_catalogue()
TOP = "  top: {{shape: rectangle, length: 1000, width: 500, thickness: 20{top}}}\n"
LEG = "  leg: {{shape: square-leg, side: 40, length: 400, count: 4{leg}}}\n"


def text(more: str = "", *, top: str = "", leg: str | None = None, system: str = "oil-varnish") -> str:
    """Return a piece file of a loose top, and of legs where something is said of them."""
    head = f"piece: Trial\nlengths: mm\ntimber: beech\nsystem: {system}\n{more}parts:\n"
    return head + TOP.format(top=top) + ("" if leg is None else LEG.format(leg=leg))


def piece(folder: Path, written: str) -> PlannedPiece:
    (folder / "piece.yaml").write_text(written, encoding="utf-8")
    return together([read_source(folder / "piece.yaml", None)])[0]


def found(folder: Path, written: str) -> Mapping[str, Operation]:
    return {one.id: one for one in piece(folder, written).operations}


def names(operations: Mapping[str, Operation], item: str = "top") -> list[str]:
    """What is done to an item, in order: the last part of each id, sides of a coat as one."""
    last = [one.id.split("/")[2] if "/" in one.id else one.id for one in operations.values() if one.item == item]
    return list(dict.fromkeys(last))


# --- which, and in which order --------------------------------------------------------------------------------------

VARNISHED = ["1", "2", "3", "4", "5", "6"]
"""Sand, three coats, abraded between."""


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("before: [raise-grain, fill-pores]\n", ["1", "raise-grain", "raise-grain-2", "fill-pores", "fill-pores-2"]),
        ("before: [fill-pores, raise-grain]\n", ["1", "fill-pores", "fill-pores-2", "raise-grain", "raise-grain-2"]),
        ("before: [steam-dents, putty-holes]\n", ["steam-dents", "putty-holes", "1"]),
        ("before: [mask-off, steam-dents]\n", ["steam-dents", "1", "mask-off"]),
        ("refinish: {lead-test: clear, strip: chemical}\n",
         ["strip-chemical", "lift-old-film", "wash-stripper-off", "1"]),
        ("refinish: {lead-test: clear, strip: heat}\nbefore: [putty-holes]\n",
         ["strip-heat", "wipe-residue", "putty-holes", "1"]),
        ("refinish: {lead-test: clear, strip: scrape}\n", ["strip-scrape", "wipe-residue", "1"]),
    ],
)  # fmt: skip
def test_they_come_in_their_part_of_the_work_and_there_in_the_order_of_the_file(
    more: str, expected: list[str], tmp_path: Path
) -> None:
    of_top = names(found(tmp_path, text(more)))
    assert of_top == [*expected, *VARNISHED[1:]]


def test_after_the_coats_an_item_and_at_last_the_whole(tmp_path: Path) -> None:
    operations = found(tmp_path, text("after: [wrap, wax-runners]\n", leg=""))
    assert names(operations)[-1] == "wax-runners"
    assert names(operations, "whole piece") == ["wrap"]
    # The last coat is on both sides of the top, and on the legs; all of it is hard enough to be wrapped.
    waits = operations["wrap"].after
    assert {after.stage for after in waits if after.id in ("top/oil-varnish/wax-runners",)} == {"done"}
    assert {after.stage for after in waits if operations[after.id].finish} == {"light-use"}
    waxed = operations["top/oil-varnish/wax-runners"]
    assert {after.stage for after in waxed.after} == {"handle"}


def test_what_a_part_says_stands_for_it_in_the_place_of_what_the_piece_says(tmp_path: Path) -> None:
    operations = found(tmp_path, text("before: [steam-dents]\n", top=", before: []", leg=""))
    assert "steam-dents" not in names(operations)
    assert names(operations, "leg")[0] == "steam-dents"
    on_part = found(tmp_path, text(top=", after: [wrap]", leg=""))
    assert names(on_part)[-1] == "wrap"
    assert "wrap" not in on_part


def test_what_a_system_does_by_itself_is_not_done_twice(tmp_path: Path) -> None:
    asked, own = (found(tmp_path, text(more, system="soap")) for more in ("before: [raise-grain]\n", ""))
    assert list(asked) == list(own)


def test_a_film_that_is_kept_is_cleaned_and_dulled_and_gets_the_last_coat(tmp_path: Path) -> None:
    kept = piece(tmp_path, text("refinish: {lead-test: clear, keep: true}\n"))
    assert names({one.id: one for one in kept.operations}) == ["clean-film", *VARNISHED[-2:]]
    (treatment,) = kept.treatments
    assert [step.bare for step in treatment.put_on] == [False]
    assert kept.sanding.groups == ()
    assert kept.sanding.dust_g.high == 0


def test_a_set_has_them_on_each(tmp_path: Path) -> None:
    operations = found(tmp_path, text("set: 2\nbefore: [steam-dents: 3]\nafter: [wrap]\n"))
    wanted = {f"top#{number}/oil-varnish/steam-dents" for number in (1, 2)} | {"wrap#1", "wrap#2"}
    assert wanted <= set(operations)
    assert operations["wrap#2"].kin == "wrap#1"


# --- how long, and how much -----------------------------------------------------------------------------------------


def test_hours_are_area_at_speed_and_handling_and_what_is_counted(tmp_path: Path) -> None:
    # By hand: top and underside 2 x 0.5 m², edge 3 m x 20 mm; lifted off at 1.5 m² an hour, picked up in 2 min.
    operations = found(tmp_path, text("refinish: {lead-test: clear, strip: chemical}\nbefore: [steam-dents: 5]\n"))
    lifted = operations["top/oil-varnish/lift-old-film"]
    assert lifted.hours.typical == pytest.approx(1.06 / 1.5 + 2 / 60)
    steamed = operations["top/oil-varnish/steam-dents"]
    assert steamed.hours.typical == pytest.approx((5 * 4 + 3) / 60)
    assert operations["top/oil-varnish/1"].after == (After(steamed.id),)
    assert (steamed.wait_h, steamed.makes_dust, lifted.makes_dust) == (12.0, False, False)


def test_stripper_and_spirit_are_bought_in_cans_and_paper_by_the_pack(tmp_path: Path) -> None:
    more = "refinish: {lead-test: clear, strip: chemical}\nafter: [wrap]\n"
    order = plan_of([piece(tmp_path, text(more)).source], now=NOW).materials
    stripper = next(one for one in order.solvents if one.material == "stripper-gel")
    # 1.06 m² at 2.5 m² a litre, the median of 1.5 to 4; in cans of half a litre and of one.
    assert stripper.needed.typical == pytest.approx(1060 / 2.5, rel=0.02)
    assert {purchase.size for purchase in stripper.buy} <= {500.0, 1000.0, 5000.0}
    assert stripper.enough_probability >= 0.9
    paper = next(one for one in order.consumables if one.name == "wax-paper")
    assert paper.needed.typical == pytest.approx(1.06 * 1.2)
    assert sum(purchase.count * purchase.size for purchase in paper.buy) == 10


# --- planned, told, and cautious ------------------------------------------------------------------------------------


def test_a_whole_plan_keeps_every_rule_of_the_shop_and_says_what_to_mind(tmp_path: Path) -> None:
    more = "refinish: {built: 1950, lead-test: clear, strip: chemical}\nbefore: [fill-pores]\nafter: [hardware: 4]\n"
    one = piece(tmp_path, text(more, leg=", before: [steam-dents: 2]"))
    plan = make_plan([one.source], now=NOW, wishes=Wishes(answers=False))
    planned = Planned(plan.pieces, (None,), NOW, plan.wishes, plan.timetable)
    assert broken_rules(planned) == []
    codes = {line.code for line in plan.cautions}
    assert {"stripper", "old-film-waste", "hot-tool"} <= codes
    assert not {code for code in codes if code.startswith("old-paint")}
    rows = {row.extra: row for row in plan.timetable.steps if row.extra is not None}
    assert {"strip-chemical", "steam-dents", "hardware"} <= set(rows)
    care = plan.precautions.rows[rows["lift-old-film"].id]
    assert {"stripper-gloves", "goggles"} <= {*care.uses, *care.needs}
    assert "nitrile-gloves" not in care.uses
    signed = [tick for tick in plan.precautions.ticks if tick.row == "hardware"]
    assert [tick.due for tick in signed] == [rows["hardware"].end]


def test_lead_is_met_where_the_film_is_disturbed_and_heat_is_refused(tmp_path: Path) -> None:
    plan = make_plan(
        [piece(tmp_path, text("refinish: {built: 1950, strip: chemical}\n")).source],
        now=NOW,
        wishes=Wishes(answers=False),
    )
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    assert rows[0].deed == "test"
    lifted = next(row for row in rows if row.extra == "lift-old-film")
    assert {"old-paint", "old-paint-wet"} <= set(plan.precautions.rows[lifted.id].codes)
    with pytest.raises(RefusedError) as refused:
        _ = piece(tmp_path, text("refinish: {built: 1950, strip: heat}\n")).operations
    (problem,) = refused.value.problems
    assert "may hold lead (built 1950)" in problem.wrong


def test_all_is_tested_before_any_is_disturbed_and_clean_before_any_is_coated(tmp_path: Path) -> None:
    more = "set: 2\nrefinish: {built: 1950, strip: chemical}\n"
    plan = make_plan([piece(tmp_path, text(more, leg="")).source], now=NOW, wishes=Wishes(answers=False))
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    tests = [row for row in rows if row.deed == "test"]
    assert len({row.id for row in tests}) == 4
    assert max(row.end for row in tests) <= min(row.start for row in rows if row.deed != "test")
    cleaned = [row for row in rows if row.deed == "wipe-down"]
    assert len({row.id for row in cleaned}) == 4
    assert max(row.end for row in cleaned) <= min(row.start for row in rows if row.deed == "coat")


def test_testing_and_cleaning_up_take_as_long_as_the_faces_are_large(tmp_path: Path) -> None:
    # By hand: the top has 1.06 m² and is looked over, and wiped, at 15 m² an hour, beside 15 min of testing three
    # places and 20 min for the sheeting and the floor. Four legs are one item.
    more = "refinish: {built: 1950, strip: chemical}\n"
    deeds = {(one.item, one.deed): one for one in found(tmp_path, text(more, leg="")).values()}
    assert deeds["top", "test"].hours.typical == pytest.approx((1.06 / 15) + 15 / 60)
    assert deeds["top", "wipe-down"].hours.typical == pytest.approx((1.06 / 15) + 20 / 60)
    assert deeds["leg", "test"].hours.typical < 20 / 60
    assert deeds["leg", "wipe-down"].hours.typical < 25 / 60


def test_nothing_is_wiped_with_solvent_on_hot_wood(tmp_path: Path) -> None:
    operations = found(tmp_path, text("refinish: {lead-test: clear, strip: heat}\n"))
    assert operations["top/oil-varnish/strip-heat"].wait_h == 1


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("before: [raise-grian]\n", "'raise-grian' is not among the extra-steps; did you mean 'raise-grain'?"),
        ("before: [wrap]\n", "'wrap' does not come before the coats; write it in after:"),
        ("after: [steam-dents]\n", "'steam-dents' does not come after the coats; write it in before:"),
        ("after: [scrape-coat]\n", "'scrape-coat' only mends a coat that went wrong; leave it out"),
        ("before: [raise-grain: 3]\n", "'raise-grain' is not counted; leave its number out"),
        ("before: [steam-dents: 0]\n", "'0' is not a number of times; expected 1 to 1000"),
        ("before: [steam-dents, steam-dents: 2]\n", "'steam-dents' is asked for twice"),
        ("before: raise-grain\n", "'raise-grain' stands where a list belongs"),
        ("before: [{steam-dents: 1, mask-off: 2}]\n", "several steps stand in one line"),
        ("before: [7]\n", "'7' is no step"),
        ("after: [hand-over, wrap]\n", "'wrap' comes after 'hand-over', when the work on it is over"),
        ("after: [wrap, hardware: 3]\n", "'hardware' comes after 'wrap', when the work on it is over; write wrap last"),
        ("refinish: {strip: sand}\n", "'sand' is no way to take an old coating off"),
        ("before: [strip-heat]\n", "write refinish: {strip: heat, built: YEAR} in its place, or lead-test: for built:"),
        ("before: [lift-old-film]\n", "'lift-old-film' disturbs an old coating, and nothing is said of that"),
        ("refinish: {strip: heat, keep: true}\n", "the old coating is stripped and kept"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(more: str, said: str, tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "piece.yaml").write_text(text(more), encoding="utf-8")
    told = cli("check", tmp_path / "piece.yaml")
    assert told.status == 2
    assert said in " ".join(told.out.split())
    assert "piece.yaml:5:" in told.out


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            "before: [seal-edges]\n",
            "'seal-edges' does nothing: it is done under paint, on cut edges, and there are none",
        ),
        ("after: [hardware]\n", "it is not said how many hardware is for, and it is planned as for one"),
    ],
)
def test_what_does_nothing_or_hardly_is_warned_of(more: str, said: str, tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "piece.yaml").write_text(text(more), encoding="utf-8")
    told = cli("check", tmp_path / "piece.yaml")
    assert told.status == 0
    assert said in " ".join(told.out.split())
    assert "piece.yaml:5:" in told.out


def test_a_lacquer_that_may_lift_a_film_that_is_kept_is_warned_of(tmp_path: Path, cli: Cli) -> None:
    written = text("refinish: {lead-test: clear, keep: true}\n", system="lacquer")
    (tmp_path / "piece.yaml").write_text(written, encoding="utf-8")
    told = cli("check", tmp_path / "piece.yaml")
    assert "may be varnish: its strong solvent lifts and wrinkles" in " ".join(told.out.split())


def test_only_the_outside_is_wrapped(tmp_path: Path) -> None:
    # By hand: outside of the case without a back, its two ends, top and bottom: 2 x 0.4 x (1.0 + 0.7) m², 0.03 m² of
    # front edges at the most beside; the inside is coated and stays where it is.
    part = "  case: {shape: carcase, width: 1000, height: 700, depth: 400, thickness: 20, back: 6, shelves: 2}\n"
    written = text("after: [wrap]\n").replace(TOP.format(top=""), part)
    planned = piece(tmp_path, written)
    (wrapped,) = whole_piece_work(planned.source.piece, planned.treatments, CATALOGUE)
    coated_m2 = sum(treatment.area_m2 for treatment in planned.treatments)
    assert wrapped.area_m2 < 2.2 < coated_m2


def test_hot_air_ends_an_hour_before_the_last_one_goes(tmp_path: Path) -> None:
    written = text("refinish: {lead-test: clear, strip: heat}\ndeliver: 2027-04-09\n", leg="")
    plan = make_plan([piece(tmp_path, written).source], now=NOW, wishes=Wishes(answers=False))
    rows = [row for row in plan.timetable.steps if row.extra == "strip-heat"]
    assert {row.item for row in rows} == {"top", "leg"}
    assert all(row.end.hour * 60 + row.end.minute <= 16 * 60 for row in rows)
    planned = Planned(plan.pieces, tuple(plan.deliveries), NOW, plan.wishes, plan.timetable)
    assert broken_rules(planned) == []
    wiped = [row.start for row in plan.timetable.steps if row.extra == "wipe-residue"]
    assert min(wiped) >= max(row.end for row in rows) + timedelta(hours=1), "spirit is opened when all of it is cold"
    looked = [tick for tick in plan.precautions.ticks if getattr(tick.what, "code", "") == "hot-air"]
    assert {tick.row for tick in looked} >= {row.id for row in rows}


def test_a_film_that_is_kept_is_not_taken_off(tmp_path: Path, cli: Cli) -> None:
    more = "refinish: {lead-test: clear, keep: true}\nbefore: [strip-scrape]\n"
    (tmp_path / "piece.yaml").write_text(text(more), encoding="utf-8")
    told = " ".join(cli("check", tmp_path / "piece.yaml").out.split())
    assert "'strip-scrape' takes off the old coating, which is kept" in told
    assert "strip: scrape in refinish: in the place of keep: true" in told


def test_no_wood_is_wetted_or_steamed_under_a_film_that_is_kept(tmp_path: Path, cli: Cli) -> None:
    """Steam turns a film white and does nothing for the wood below it; loose veneer is glued under a film too."""
    for step, refused in (("steam-dents", True), ("raise-grain", True), ("glue-size", True), ("repair-veneer", False)):
        for stays, also in (("keep: true", refused), ("strip: chemical", False)):
            more = f"refinish: {{lead-test: clear, {stays}}}\nbefore: [{step}]\n"
            (tmp_path / "piece.yaml").write_text(text(more, system="oil-varnish"), encoding="utf-8")
            told = cli("check", tmp_path / "piece.yaml")
            said = f"'{step}' is done to bare wood, and the old coating over it is kept" in " ".join(told.out.split())
            assert (said, told.status) == (also, 2 if also else 0), (step, stays, told.out)


def test_steam_on_veneer_is_warned_of(tmp_path: Path, cli: Cli) -> None:
    for veneer in (", veneer: 0.6 mm", ""):
        written = text("before: [steam-dents]\n").replace("thickness: 20", f"thickness: 20{veneer}")
        (tmp_path / "piece.yaml").write_text(written, encoding="utf-8")
        told = cli("check", tmp_path / "piece.yaml")
        assert told.status == 0, told.err
        assert ("stop the dents with putty: putty-holes [heat-on-veneer]" in told.out) is bool(veneer), told.out


def test_what_has_to_soak_in_goes_on_no_film_that_is_kept(tmp_path: Path, cli: Cli) -> None:
    for system, refused in (("tung-oil", True), ("soap", True), ("oil-varnish", False), ("shellac", False)):
        written = text("refinish: {lead-test: clear, keep: true}\n", system=system)
        (tmp_path / "piece.yaml").write_text(written, encoding="utf-8")
        told = cli("check", tmp_path / "piece.yaml")
        assert ("over an old film that is kept: it cannot soak in" in " ".join(told.out.split())) == refused, system
        assert (told.status == 2) == refused, system


def test_a_number_for_all_items_is_not_spread_over_them(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "piece.yaml").write_text(text("before: [steam-dents: 3]\n", leg=""), encoding="utf-8")
    assert "it is not said on which item the 3 are" in cli("check", tmp_path / "piece.yaml").out


ASKED = [name for name, step in CATALOGUE.extra_steps.items() if step.when in (*BEFORE, *AFTER)]


@pytest.mark.parametrize("name", ASKED)
def test_every_step_of_the_catalogue_can_be_asked_for_and_is_planned(name: str, tmp_path: Path) -> None:
    when = CATALOGUE.extra_steps[name].when
    field = "before" if when in ("as-found", "sanded") else "after"
    more = f"refinish: {{lead-test: clear, strip: scrape}}\n{field}: [{name}]\n"
    system = "acrylic-enamel" if CATALOGUE.extra_steps[name].opaque_only else "oil-varnish"
    operations = found(tmp_path, text(more, system=system))
    assert any(name in one.id for one in operations.values()), name


def test_hot_air_on_veneer_is_warned_of_unless_it_is_meant(tmp_path: Path, cli: Cli) -> None:
    more = "refinish: {lead-test: clear, strip: heat}\n"
    for veneer, accept, said in (
        (", veneer: 0.6 mm", "", True),
        ("", "", False),
        (", veneer: 0.6 mm", "accept: [heat-on-veneer]\n", False),
    ):
        written = text(more + accept).replace("thickness: 20", f"thickness: 20{veneer}")
        (tmp_path / "piece.yaml").write_text(written, encoding="utf-8")
        told = cli("check", tmp_path / "piece.yaml")
        assert told.status == 0, told.err
        assert ("glue gives in heat" in " ".join(told.out.split())) is said, (veneer, accept, told.out)


@pytest.mark.parametrize(("system", "waits_h"), [("oil-varnish", 4.0), ("waterborne-polyurethane", 0.0)])
def test_wood_that_was_sanded_wet_dries_before_it_is_coated(system: str, waits_h: float, tmp_path: Path) -> None:
    """As long as wood that is wetted to raise its grain; where that comes next, it is wetted once more at once."""
    operations = found(tmp_path, text("refinish: {built: 1960, strip: scrape}\n", system=system))
    wiped = [one for one in operations.values() if one.item == "top" and one.deed == "wipe-down"]
    assert [one.wait_h for one in wiped] == [*[0.0] * (len(wiped) - 1), waits_h]


def test_what_is_counted_on_an_item_is_done_once_whatever_systems_its_faces_have(tmp_path: Path) -> None:
    """Eight holes are eight holes: they were stopped, and charged, once for each of two systems."""
    two = ", before: [putty-holes: 8], faces: {underside: {system: wax}}"
    stopped = {
        faces: [one for one in found(tmp_path, text(top=faces)).values() if one.extra == "putty-holes"]
        for faces in (two, ", before: [putty-holes: 8]")
    }
    (with_two,), (with_one,) = stopped.values()
    assert with_two.work_min == with_one.work_min
    by_area = ", before: [raise-grain], faces: {underside: {system: wax}}"
    assert len([one for one in found(tmp_path, text(top=by_area)).values() if one.id.endswith("/raise-grain")]) == 2
