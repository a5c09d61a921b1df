"""Booth and extraction in a shop file, and the words that let what burns be sprayed without a booth."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Booth, takes_what_burns
from finplan.problems import RefusedError
from tests.inputs.shops import load_shop

SHOP = "shop: Mine\ngrits: []\nmethods: [brush]\nrooms:\n  shop: {for: [sanding, coating, drying], BOOTH}\n"


def booth_of(text: str, tmp_path: Path) -> Booth | None:
    file = tmp_path / "shop.yaml"
    file.write_text(SHOP.replace("BOOTH", text), encoding="utf-8")
    catalogue = bundled_catalogue()
    return load_shop(file, catalogue).shop.rooms["shop"].booth


@pytest.mark.parametrize(
    ("face", "velocity", "flow_m3_h", "does"),
    # 29 CFR 1910.107(b)(5), 100 ft/min: a face of 8 x 7 ft draws 5600 cfm, which is 9514 m³/h.
    [
        ("8 x 7 ft", "100 ft/min", 9514.5, True),
        ("8 ft × 7 ft", "100 ft/min", 9514.5, True),
        ("2.4 x 2.1 m", "0.5 m/s", 9072.0, True),
        ("2.4 x 2.1 m", "0.4 m/s", 7257.6, False),
    ],
)
def test_a_booth_by_its_face(face: str, velocity: str, flow_m3_h: float, does: bool, tmp_path: Path) -> None:
    booth = booth_of(f"booth: {{face: {face}, velocity: {velocity}}}", tmp_path)
    assert booth is not None
    assert booth.flow_m3_h == pytest.approx(flow_m3_h, rel=1e-4)
    assert takes_what_burns(booth, bundled_catalogue()) is does


def test_no_booth_is_none(tmp_path: Path) -> None:
    assert not takes_what_burns(booth_of("volume: 60 m3", tmp_path), bundled_catalogue())


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("booth: {face: 2.4 m, velocity: 0.5 m/s}", "'2.4 m' is not the face of a booth"),
        ("booth: {face: 2.4 x 2.1, velocity: 0.5 m/s}", "'2.4 x 2.1' has no unit"),
        ("booth: {face: 2.4 x 0 m, velocity: 0.5 m/s}", "'0 m' is zero"),
        ("booth: {face: 2.4 x 2.1 m, velocity: 300 m3/h}", "'m3/h' is not a unit of velocity"),
        ("booth: {face: 2.4 x 2.1 m}", "field 'velocity' is missing"),
        ("extraction: {flow: 800 m3/h}", "field 'velocity' is missing"),
    ],
)
def test_what_is_wrong_with_it(text: str, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as caught:
        booth_of(text, tmp_path)
    assert any(problem.wrong.startswith(wrong) for problem in caught.value.problems), caught.value.problems


@pytest.mark.parametrize("said", ["true", "yes, I may", "''", "[I have read the local code]"])
def test_other_words_let_nothing_be_sprayed(said: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as caught:
        booth_of(f"volume: 60 m3}}\nspray-without-booth: {said}\nnotes: {{", tmp_path)
    assert "does not say that the local code was read" in caught.value.problems[0].wrong
