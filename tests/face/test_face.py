"""What is called from Python."""

from __future__ import annotations

import inspect
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from xml.etree import ElementTree

import pytest

import finplan
from tests.cli.test_startup import HEAVY
from tests.conftest import EXAMPLE

MARCH = "2027-03-01"
SHOP = "shop: Back room\nmethods: [wipe, brush, hand]\n"


def test_every_name_is_there_and_explained() -> None:
    assert dir(finplan) == finplan.__all__ == sorted(finplan.__all__)
    for name in finplan.__all__:
        assert inspect.getdoc(getattr(finplan, name)), name


def test_what_is_no_name_is_none() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'plann'"):
        _ = finplan.plann  # type: ignore[attr-defined]


def test_types_are_given() -> None:
    assert (Path(finplan.__file__).parent / "py.typed").exists()


def test_importing_it_loads_no_heavy_library() -> None:
    program = f"import sys, finplan; print([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_piece_from_a_path_or_a_text(tmp_path: Path) -> None:
    file = tmp_path / "table.yaml"
    file.write_text(EXAMPLE, encoding="utf-8")
    read = [finplan.read(given) for given in (file, str(file), EXAMPLE)]
    assert len({piece.surface.finished_m2 for piece in read}) == 1
    assert {piece.source.piece_file.document.file.name for piece in read} == {"table.yaml", "piece.yaml"}


def test_what_is_wrong_with_a_text_has_its_name_and_its_line() -> None:
    with pytest.raises(finplan.RefusedError) as refused:
        finplan.read(EXAMPLE.replace("timber: ash", "timber: ahs"), name="table")
    (problem,) = refused.value.problems
    assert str(problem).startswith("table:5:9: timber: 'ahs' is not in the catalogue; did you mean 'ash'?")


def test_moments_may_be_written_in_any_way() -> None:
    piece = finplan.read(EXAMPLE)
    zone = piece.source.shop.time_zone
    starts: list[str | date | datetime] = [
        MARCH,
        date(2027, 3, 1),
        datetime(2027, 3, 1),
        datetime(2027, 3, 1, tzinfo=zone),
    ]
    plans = [finplan.plan(piece, start=start, deliver=date(2027, 3, 12)) for start in starts]
    assert len({plan.now for plan in plans}) == 1
    assert {str(plan.deliver) for plan in plans} == {"2027-03-12"}
    assert abs(finplan.plan(piece).now - datetime.now(UTC)).total_seconds() < 3600


def test_steps_that_are_done(tmp_path: Path) -> None:
    piece = finplan.read(EXAMPLE)
    first, second = piece.operations[0].id, piece.operations[1].id
    plan = finplan.plan(piece, start=MARCH, done=[second])
    assert set(plan.done) == {first, second}
    plan = finplan.plan(piece, start=MARCH, done={first: None})
    assert set(plan.done.values()) == {plan.now}


@pytest.mark.parametrize(
    ("wanted", "wish"),
    [
        ({"start": "soon"}, "start"),
        ({"deliver": "2027-02-30"}, "deliver"),
        ({"sure": 90}, "sure"),
        ({"limit_s": 0.0}, "limit_s"),
        ({"done": ["no-step"]}, "done"),
        ({"done": {"no-step": None}}, "done"),
    ],
)
def test_a_wish_that_cannot_be_had(wanted: dict[str, object], wish: str) -> None:
    with pytest.raises(finplan.WishError) as refused:
        finplan.plan(EXAMPLE, **wanted)  # type: ignore[arg-type]
    assert refused.value.wish == wish
    assert isinstance(refused.value, ValueError)


def test_pieces_of_several_shops_are_not_planned_together() -> None:
    one, other = finplan.read(EXAMPLE), finplan.read(EXAMPLE, shop=SHOP)
    with pytest.raises(finplan.WishError, match="several shops"):
        finplan.plan(one, other)
    with pytest.raises(finplan.WishError, match="nothing to plan"):
        finplan.plan()


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: finplan.read(None),  # type: ignore[arg-type]
        lambda: finplan.read(EXAMPLE, shop=3),  # type: ignore[arg-type]
        lambda: finplan.read_shop(["shop.yaml"]),  # type: ignore[arg-type]
        lambda: finplan.plan([]),  # type: ignore[arg-type]
        lambda: finplan.plan([finplan.read(EXAMPLE)]),  # type: ignore[arg-type]
        lambda: finplan.plan(EXAMPLE, start=MARCH).pdf(None),  # type: ignore[arg-type]
    ],
    ids=["no piece", "a number for a shop", "a list for a shop", "no pieces", "a list of them", "no output"],
)
def test_what_is_no_path_and_no_text_is_told(wrong: Callable[[], object]) -> None:
    with pytest.raises(finplan.WishError, match="is given where a path"):
        wrong()


def test_a_list_of_pieces_is_told_how_to_give_them() -> None:
    with pytest.raises(finplan.WishError, match="give pieces one by one"):
        finplan.plan([])  # type: ignore[arg-type]


def test_all_that_is_raised_has_one_base() -> None:
    for kind in (finplan.RefusedError, finplan.WishError, finplan.NotPossibleError):
        assert issubclass(kind, finplan.FinplanError)


def test_no_sheet_is_written_over_what_was_read(tmp_path: Path) -> None:
    """The same rule as on the command line: nothing but a .pdf, and none that is a file of the plan by another name."""
    piece, shop = tmp_path / "b.yaml", tmp_path / "shop.yaml"
    piece.write_text(EXAMPLE, encoding="utf-8")
    shop.write_text(SHOP, encoding="utf-8")
    plan = finplan.plan(piece, shop=shop, start=MARCH)
    link, other = tmp_path / "sheet.pdf", tmp_path / "shop.pdf"
    link.symlink_to(piece)
    other.hardlink_to(shop)
    for output in (piece, shop, tmp_path / "sheet.txt", tmp_path / "sheet"):
        with pytest.raises(finplan.NotPossibleError, match=r"the sheet is written as \.pdf, not"):
            plan.pdf(output)
    for output in (link, other):
        with pytest.raises(finplan.NotPossibleError, match="would be written over"):
            plan.pdf(output)
    with pytest.raises(finplan.NotPossibleError, match="there is no folder"):
        plan.pdf(tmp_path / "none" / "sheet.pdf")
    assert piece.read_text(encoding="utf-8") == EXAMPLE
    assert shop.read_text(encoding="utf-8") == SHOP
    assert link.is_symlink()


def test_several_pieces_are_one_plan() -> None:
    shop = finplan.read_shop(SHOP)
    plan = finplan.plan(finplan.read(EXAMPLE, shop=shop), EXAMPLE, shop=shop, start=MARCH)
    assert [piece.key for piece in plan.pieces] == ["piece/", "piece-2/"]
    assert len({step.id for treatment in plan.treatments for step in treatment.steps}) == sum(
        len(treatment.steps) for treatment in plan.treatments
    )


def test_what_a_notebook_shows_is_well_formed() -> None:
    plan = finplan.plan(EXAMPLE, start=MARCH)
    shown = plan._repr_svg_()
    assert shown is not None
    words = "".join(ElementTree.fromstring(shown).itertext())  # noqa: S314 - our own
    for treatment in plan.treatments:
        assert treatment.item in words
    (piece,) = plan.pieces
    page = ElementTree.fromstring(piece._repr_html_())  # noqa: S314 - our own
    named = ["".join(caption.itertext()) for caption in page.iter("figcaption")]
    counts = {part.part: part.count for part in piece.surface.parts}
    assert named == [f"{name} × {counts[name]}" if counts[name] > 1 else name for name in piece.source.piece.parts]
    assert any("×" in name for name in named)
    assert repr(plan) == "<Plan of 'Reading table, village library' from 2027-03-01 00:00>"


def test_data_and_page_are_what_the_command_line_writes() -> None:
    plan = finplan.plan(EXAMPLE, start=MARCH)
    assert plan.data()["digest"] == plan.digest
    assert "Reading table, village library" in plan.html()


def test_what_does_not_fit_has_no_sheet(tmp_path: Path) -> None:
    """It said that nothing is left to do, where nothing could be done in time."""
    plan = finplan.plan(EXAMPLE, start=MARCH, deliver="2027-03-02")
    assert plan.timetable.status == "impossible"
    for sheet in (plan.html, lambda: plan.pdf(tmp_path / "sheet.pdf")):
        with pytest.raises(finplan.NotPossibleError, match=r"^This does not fit\. Deliver by 2027-03-02 17:00\."):
            sheet()
    assert not list(tmp_path.iterdir())
    assert plan.data()["timetable"]["clashes"]
    assert plan._repr_svg_() is None


def test_a_workshop_is_shown_by_its_name() -> None:
    assert repr(finplan.read_shop(SHOP)) == "<Workshop 'Back room'>"
