"""Folders of records with something wrong in them: each is refused with file, line and what was meant."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import bundled_catalogue, overruled
from finplan.problems import Problem, RefusedError
from finplan.resources import data_dir
from tests.catalogue.whole import load_catalogue

Edit = Callable[[str, str, str], int]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copied = tmp_path / "catalogue"
    shutil.copytree(data_dir("catalogue"), copied)
    return copied


@pytest.fixture
def edit(folder: Path) -> Edit:
    def replace(kind: str, old: str, new: str) -> int:
        """Replace the first *old* by *new* and return the line where it stands, from 1."""
        file = folder / f"{kind}.yaml"
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
        return text[: text.index(old)].count("\n") + 1

    return replace


def refusals(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(RefusedError) as caught:
        load_catalogue(folder, bundled_catalogue())
    return caught.value.problems


def test_a_faithful_copy_loads(folder: Path) -> None:
    assert load_catalogue(folder) == bundled_catalogue()


@pytest.mark.parametrize(
    ("kind", "old", "new", "where", "wrong", "expected"),
    [
        (
            "finishes",
            "basis: practice\n  sources: {touch-dry: finisher-articles",
            "basis: practise\n  sources: {touch-dry: finisher-articles",
            "hardwax-oil.basis",
            "'practise' is not among the sources",
            "did you mean 'practice'?",
        ),
        (
            "finishes",
            "{mix: finisher-articles}",
            "{mix: finisher-article}",
            "hardwax-oil-2k.sources.mix",
            "'finisher-article' is not among the sources",
            "did you mean 'finisher-articles'?",
        ),
        (
            "finishes",
            "{mix: finisher-articles}",
            "{mixt: finisher-articles}",
            "hardwax-oil-2k.sources.mixt",
            "'mixt' is no field of this record",
            "did you mean 'mix'?",
        ),
        (
            "finishes",
            "methods: [wipe, pad, brush, roller]",
            "methods: [wype, pad, brush, roller]",
            "hardwax-oil.methods[0]",
            "'wype' is not among the methods",
            "did you mean 'wipe'?",
        ),
        (
            "finishes",
            "touch-dry: 6/9/12 h",
            "tuch-dry: 6/9/12 h",
            "hardwax-oil.tuch-dry",
            "field 'tuch-dry' is unknown",
            "did you mean 'touch-dry'?",
        ),
        (
            "finishes",
            "touch-dry: 6/9/12 h",
            "touch-dry: 12/9/6 h",
            "hardwax-oil.touch-dry",
            "are not in order",
            "expected low/typical/high",
        ),
        ("finishes", "15/22/30 m2/l", "15/22/30 m2", "hardwax-oil.spread-rate.first", "'m2' is not a unit", "m2/l"),
        (
            "finishes",
            "hazards: {self-heating: true, flammable: true}",
            "hazards: {flammable: true}",
            "hardwax-oil.hazards.self-heating",
            "field 'self-heating' is missing",
            "it must be given",
        ),
        (
            "finishes",
            "temperature: 12 to 30 degC",
            "temperature: 30 to 12 degC",
            "hardwax-oil.apply.temperature",
            "are not in order",
            "expected two limits",
        ),
        ("finishes", "family: oil", "family: oils", "hardwax-oil.family", "'oils' is not known", "did you mean 'oil'?"),
        (
            "systems",
            "finish: hardwax-oil, ",
            "finish: hardwax-oyl, ",
            "hardwax-oil.steps[1].finish",
            "'hardwax-oyl' is not among the finishes",
            "did you mean 'hardwax-oil'?",
        ),
        (
            "systems",
            "{do: abrade, grit: P320, note",
            "{do: abrade, note",
            "hardwax-oil.steps[2].grit",
            "the step 'abrade' names no grit",
            "expected a P-grade",
        ),
        (
            "systems",
            "{do: sand}",
            "{do: polish}",
            "hardwax-oil.steps[0].do",
            "'polish' is not a step",
            "expected one of sand",
        ),
        (
            "systems",
            "open: P150",
            "open: fine",
            "hardwax-oil.stop-grit.open",
            "'fine' is not a grade",
            "such as P180",
        ),
        (
            "finishes",
            "thinner-solvent: white-spirit",
            "thinner-solvent: white-sprit",
            "tung-oil.thinner-solvent",
            "'white-sprit' is not among the solvents",
            "did you mean 'white-spirit'?",
        ),
        (
            "solvents",
            "components: {toluene: 40",
            "components: {tolune: 40",
            "lacquer-thinner.components.tolune",
            "'tolune' is not among the solvents",
            "did you mean 'toluene'?",
        ),
        (
            "solvents",
            "flash-point: 38 degC",
            "flash-point: 38 kPa",
            "white-spirit.flash-point",
            "'kPa' is not a unit of temperature",
            "18 degC",
        ),
        (
            "sanding-methods",
            "abrasive: disc-125",
            "abrasive: disk-125",
            "random-orbit-125.abrasive",
            "'disk-125' is not among the abrasives",
            "did you mean 'disc-125'?",
        ),
        (
            "consumables",
            "methods: [wipe, pad]",
            "methods: [wype, pad]",
            "lint-free-cloth.methods[0]",
            "'wype' is not among the methods",
            "did you mean 'wipe'?",
        ),
        ("timbers", "botanical: Fraxinus americana", 'botanical: ""', "ash.botanical", "the text is empty", "words"),
        ("grades", "P80: 201", "P80: coarse", "p-grade.sizes.P80", "'coarse' is not a grain size", "micrometres"),
        ("packs", "[125 ml", "[125 m", "metric.sizes", "'m' is not a unit of volume", "250 ml"),
        (
            "cautions",
            "applies: [self-heating, burning-waste]",
            "applies: [self-heatin, burning-waste]",
            "waste-can.applies[0]",
            "'self-heatin' is not known here",
            "did you mean 'self-heating'?",
        ),
    ],
)
def test_a_slip_is_refused_at_its_line(
    folder: Path, edit: Edit, kind: str, old: str, new: str, where: str, wrong: str, expected: str
) -> None:
    line = edit(kind, old, new)
    line += new[: next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), 0)].count("\n")
    problems = refusals(folder)
    assert [problem.file.name for problem in problems] == [f"{kind}.yaml"]
    assert problems[0].line == line
    assert problems[0].where.startswith(where)
    assert wrong in problems[0].wrong
    assert expected in problems[0].expected


@pytest.mark.parametrize("kind", ["sources", "finishes", "cautions"])
def test_a_lost_file_is_named(folder: Path, kind: str) -> None:
    (folder / f"{kind}.yaml").unlink()
    problems = refusals(folder)
    assert [problem.file.name for problem in problems] == [f"{kind}.yaml"]
    assert "cannot be read" in problems[0].wrong


def test_every_file_is_looked_at_before_anything_is_refused(folder: Path, edit: Edit) -> None:
    edit("finishes", "touch-dry: 6/9/12 h", "touch-dry: soon")
    edit("timbers", "pores: ring-porous", "pores: ring")
    edit("methods", "loss: 5/10/20 %", "loss: 5/10/20 ml")
    assert {problem.file.name for problem in refusals(folder)} == {"finishes.yaml", "timbers.yaml", "methods.yaml"}


def test_a_record_that_is_no_group_of_fields_is_refused(folder: Path) -> None:
    (folder / "caps.yaml").write_text("ladder: 1.67\n", encoding="utf-8")
    assert "stands where a group of fields belongs" in refusals(folder)[0].wrong


@pytest.mark.parametrize(
    ("overrides", "wrong"),
    [
        ({"finish": {}}, "'finish' is no kind of record"),
        ({"finishes": {"hardwax-oyl": {}}}, "'hardwax-oyl' is not among the finishes"),
        ({"finishes": {"hardwax-oil": {"recoat": "soon"}}}, "'soon' is not a duration"),
        ({"finishes": {"hardwax-oil": {"methods": ["wype"]}}}, "'wype' is not among the methods"),
        ({"finishes": ["hardwax-oil"]}, "this is not a group of records"),
        ({"finishes": {"hardwax-oil": {"like": "tung-oil"}}}, "field 'like' is unknown"),
        ({"finishes": {"hardwax-oil": {"recoat": "9 h", "basis": "lable"}}}, "'lable' is not among the sources"),
        ({"finishes": {"hardwax-oil": {"sources": "label"}}}, "'label' stands where a group of fields belongs"),
    ],
)
def test_a_slip_in_what_a_shop_overrules_is_found(overrides: dict[str, Any], wrong: str) -> None:
    _, findings = overruled(bundled_catalogue(), overrides)
    assert [finding.wrong for finding in findings] == [wrong]


def test_a_shop_overrules_one_value_and_keeps_the_rest() -> None:
    overrides = {"finishes": {"hardwax-oil": {"spread-rate": {"first": "20/24/28 m2/l"}, "packs": ["1 l"]}}}
    own, findings = overruled(bundled_catalogue(), overrides)
    assert findings == []
    before, after = bundled_catalogue().finishes["hardwax-oil"], own.finishes["hardwax-oil"]
    assert after.spread_rate.first_m2_l.typical == 24.0
    assert after.spread_rate.next_m2_l == before.spread_rate.next_m2_l
    assert after.packs is not None
    assert [pack.holds.value for pack in after.packs] == [1000.0]
    assert after.recoat_h == before.recoat_h
    assert own.finishes["tung-oil"] == bundled_catalogue().finishes["tung-oil"]
