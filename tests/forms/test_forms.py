"""Every form is right at once: no error, no warning, with all sizes, timbers and systems that it may be begun with."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from functools import cache
from itertools import cycle, product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.forms import Answers, StartingForm, forms, write_piece
from finplan.inputs.shapes import SHAPES
from finplan.planning import missing_for_plan, read_sources, together, wood_risks
from finplan.problems import FindingsError, Problem, RefusedError
from finplan.quantity import Units
from finplan.reading import Written
from finplan.resources import data_dir

NOW = datetime(2027, 3, 1, 8, tzinfo=UTC)
NAMES = [form.name for form in forms()]
ONE_BOARD = """
piece: One board
lengths: mm
timber: {timber}
system: {system}
deliver: 2027-06-18
{more}parts:
  board: {{shape: board, length: 600, width: 120, thickness: 22}}
"""


def form_called(name: str) -> StartingForm:
    return next(form for form in forms() if form.name == name)


def problems_of(text: str) -> list[Problem]:
    """What `check` says of a piece in the default shop."""
    try:
        (source,) = read_sources([Written(Path("piece.yaml"), text)], None)
    except RefusedError as error:
        return list(error.problems)
    (piece,) = together([source])
    found = [*source.piece_file.problems, *source.located(missing_for_plan(source.piece)), *piece.clashes_anywhere]
    return [*found, *(wood_risks([piece], NOW) if piece.possible else ())]


OLD = {"kept-table": "refinish: {keep: true, built: 1958}\n"}
"""What the forms say whose coats go on an old film: not every system holds on one."""


def _board(timber: str, system: str, more: str = "") -> str:
    return ONE_BOARD.format(timber=timber, system=system, more=more)


@cache
def going_together() -> tuple[tuple[str, str], ...]:
    """Timbers with systems that go on a plain board of them without a word."""
    catalogue = bundled_catalogue()
    pairs = product(catalogue.timbers, catalogue.systems)
    return tuple((t, s) for t, s in pairs if not problems_of(_board(t, s)))


def pairs_for(name: str) -> Iterator[tuple[str, str]]:
    """A share of the pairs for each form, so that all of them are tried."""
    found = going_together()[NAMES.index(name) :: len(NAMES)]
    yield from (pair for pair in found if name not in OLD or not problems_of(_board(*pair, OLD[name])))


@pytest.mark.parametrize("name", NAMES)
def test_with_every_timber_and_system_that_go_together(name: str) -> None:
    tried = list(pairs_for(name))
    assert len(tried) > (5 if name in OLD else 10), "on an old film fewer hold"
    units: Iterator[Units] = cycle(("metric", "us"))
    for (timber, system), unit in zip(tried, units, strict=False):
        text = write_piece(form_called(name), Answers("A piece", timber, system, "2027-06-18", unit))
        assert problems_of(text) == [], f"{timber}, {system}, {unit}"


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=15)
@given(data=st.data())
def test_with_every_size_within_bounds(name: str, data: st.DataObject) -> None:
    form = form_called(name)
    units: Units = data.draw(st.sampled_from(("metric", "us")))
    sizes = {
        size.name: data.draw(
            st.integers(int(size.least), int(size.most)).map(float)
            if size.counts
            else st.floats(size.least, size.most) | st.sampled_from((size.least, size.most)),
            label=size.name,
        )
        for size in form.sizes
    }
    text = write_piece(form, Answers("A piece", form.timber, form.system, "2027-06-18 15:00", units, sizes))
    assert problems_of(text) == []


@given(title=st.text(st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn")), min_size=1, max_size=80))
def test_a_title_is_read_back_as_it_was_given(title: str) -> None:
    wanted = " ".join(title.split())
    if not wanted:
        return
    text = write_piece(forms()[0], Answers(title, "ash", "hardwax-oil", customer=title))
    (source,) = read_sources([Written(Path("piece.yaml"), text)], None)
    assert (source.piece.name, source.piece.customer) == (wanted, wanted)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_answered_stands_in_the_file(name: str) -> None:
    form = form_called(name)
    text = write_piece(form, Answers("Ours", "elm", "shellac", "2027-06-18"))
    for expected in ("piece: Ours", "timber: elm", "system: shellac", "deliver: 2027-06-18", "lengths: mm"):
        assert expected in text
    assert text.count("#") >= 10, "it explains itself"
    assert "{{" not in text
    assert all(len(line) <= 150 for line in text.splitlines())
    more = {size.name: size.most for size in form.sizes}
    assert write_piece(form, Answers("Ours", "elm", "shellac", "2027-06-18", sizes=more)) != text


def test_every_size_of_every_form_does_something() -> None:
    for form in forms():
        usual = write_piece(form, Answers("Ours", "elm", "shellac"))
        for size in form.sizes:
            for value in {size.least, size.most} - {size.usual("metric")}:
                changed = write_piece(form, Answers("Ours", "elm", "shellac", sizes={size.name: value}))
                assert changed != usual, (form.name, size.name)


def test_the_sizes_are_of_one_sort_and_within_their_bounds() -> None:
    for form in forms():
        assert len({size.name for size in form.sizes}) == len(form.sizes)
        for size in form.sizes:
            for value in (size.usual("metric"), size.usual("us")):
                assert size.least <= value <= size.most
            if not size.counts:
                assert size.usual("us") == pytest.approx(size.usual("metric"), rel=0.05)


def test_what_is_out_of_bounds_is_told_at_once() -> None:
    answers = Answers("Ours", "ash", "hardwax-oil", sizes={"diametre": 900.0, "height": 5.0})
    with pytest.raises(FindingsError) as told:
        write_piece(form_called("round-table"), answers)
    assert [finding.path for finding in told.value.findings] == [("sizes", "diametre"), ("sizes", "height")]
    assert "did you mean 'diameter'?" in str(told.value)
    assert "expected 300 mm to 1200 mm" in str(told.value)


@pytest.mark.parametrize(("legs", "wrong"), [(3.5, "not a whole number"), (float("nan"), "out of bounds")])
def test_a_number_has_to_be_whole(legs: float, wrong: str) -> None:
    with pytest.raises(FindingsError, match=wrong):
        write_piece(form_called("stool"), Answers("Ours", "ash", "hardwax-oil", sizes={"legs": legs}))


def test_every_form_has_its_template_and_they_use_shapes_of_all_sorts() -> None:
    folder = data_dir("templates") / "forms"
    assert {file.stem for file in folder.glob("*.yaml")} - {"forms", "head", "base", "shop"} == set(NAMES)
    used = {
        part.shape
        for form in forms()
        for part in read_sources(
            [Written(Path("piece.yaml"), write_piece(form, Answers("Ours", form.timber, form.system)))], None
        )[0].piece.parts.values()
    }
    assert used >= set(SHAPES) - {"stadium", "polygon", "mesh", "measured"}
