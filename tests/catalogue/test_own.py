"""A shop's own records: a folder beside the shop file, each file named as its kind."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import Catalogue, bundled_catalogue, overruled
from finplan.planning import digest_of, read_source, workshop_and_problems
from finplan.problems import Problem

PIECE = """\
piece: Stool
lengths: mm
timber: ash
system: tin-oil
parts:
  seat: {shape: disc, diameter: 320, thickness: 28}
"""
SHOP = "shop: Harbour Lane\nrecords: my-records\n"
FINISH = """\
tin-oil:
  like: hardwax-oil
  title: The oil in the blue tin
  basis: label
  recoat: 6/8/10 h
  spread-rate: {first: 18/20/24 m2/l}
  packs: [750 ml]
"""
SYSTEM = """\
tin-oil:
  like: hardwax-oil
  title: The oil in the blue tin, two coats
  basis: practice
  steps:
    - {do: sand}
    - {do: coat, finish: tin-oil, methods: [wipe]}
    - {do: coat, finish: tin-oil, methods: [wipe]}
"""


EMPTY = " {like: hardwax-oil, title: The oil, basis: practice, steps: []}\n"
COATS = "{do: coat, finish: hardwax-oil, methods: [wipe]}"
LONG = EMPTY.replace("[]", f"[{{do: sand}}, {', '.join([COATS] * 60)}]")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "my-records").mkdir()
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "stool.yaml").write_text(PIECE, encoding="utf-8")
    return tmp_path


def write(folder: Path, **files: str) -> None:
    for kind, text in files.items():
        (folder / "my-records" / f"{kind}.yaml").write_text(text, encoding="utf-8")


def read(folder: Path) -> tuple[Catalogue, tuple[Problem, ...]]:
    _, catalogue, problems = workshop_and_problems(folder / "shop.yaml")
    return catalogue, problems


def test_own_records_stand_beside_the_bundled_ones(folder: Path) -> None:
    write(folder, finishes=FINISH, systems=SYSTEM)
    catalogue, problems = read(folder)
    assert problems == ()
    assert set(catalogue.finishes) == {*bundled_catalogue().finishes, "tin-oil"}
    assert catalogue.systems["tin-oil"].finishes() == ("tin-oil",)
    assert catalogue.finishes["hardwax-oil"] == bundled_catalogue().finishes["hardwax-oil"]


def test_a_piece_is_planned_with_them(folder: Path) -> None:
    write(folder, finishes=FINISH, systems=SYSTEM)
    source = read_source(folder / "stool.yaml", folder / "shop.yaml")
    assert source.piece.system == "tin-oil"
    assert source.catalogue.finishes["tin-oil"].recoat_h.typical == 8.0
    before = digest_of([source])
    write(folder, finishes=FINISH.replace("6/8/10", "6/9/10"))
    assert digest_of([read_source(folder / "stool.yaml", folder / "shop.yaml")]) != before


def test_what_is_like_another_keeps_the_values_and_the_sources_of_the_rest(folder: Path) -> None:
    write(folder, finishes=FINISH)
    own, base = read(folder)[0].finishes["tin-oil"], bundled_catalogue().finishes["hardwax-oil"]
    assert own.title == "The oil in the blue tin"
    assert own.spread_rate.first_m2_l.typical == 20.0
    assert own.spread_rate.next_m2_l == base.spread_rate.next_m2_l
    assert own.touch_dry_h == base.touch_dry_h
    assert [own.source_of(one) for one in ("recoat", "packs", "spread-rate.first")] == ["label"] * 3
    for field in ("touch-dry", "spread-rate.next", "cure"):
        assert own.source_of(field) == base.source_of(field)


def test_a_record_may_be_written_out_with_sources_of_its_own(folder: Path) -> None:
    write(
        folder,
        sources="yard-list:\n  title: The timber yard's list of 2026\n  rests: published\n",
        timbers="""\
plum:
  title: Plum
  botanical: Prunus domestica
  basis: yard-list
  sources: {dust: memory}
  pores: diffuse-porous
  specific-gravity: 0.72
  tannin: medium
  dust: {sensitiser: 0, hardwood: true}
""",
    )
    catalogue, problems = read(folder)
    assert problems == ()
    assert catalogue.timbers["plum"].source_of("tannin") == "yard-list"


def test_own_ways_of_working_are_known_to_the_shop(folder: Path) -> None:
    write(folder, methods="mop:\n  like: brush\n  title: Polishing mop\n  flat: 8/12/16 m2/h\n")
    (folder / "shop.yaml").write_text(SHOP + "methods: [mop, hand]\n", encoding="utf-8")
    catalogue, problems = read(folder)
    assert problems == ()
    assert catalogue.methods["mop"].profile_m2_h == bundled_catalogue().methods["brush"].profile_m2_h


@pytest.mark.parametrize(
    ("kind", "text", "line", "where", "wrong", "expected"),
    [
        (
            "finishes",
            FINISH.replace("6/8/10 h", "soon"),
            5,
            "tin-oil.recoat",
            "'soon' is not a duration",
            "such as 45 min",
        ),
        ("finishes", FINISH.replace("recoat", "recote"), 5, "tin-oil.recote", "is unknown", "did you mean 'recoat'?"),
        (
            "finishes",
            FINISH.replace("like: hardwax-oil", "like: hardwax"),
            2,
            "tin-oil.like",
            "'hardwax' is not among the bundled finishes",
            "did you mean 'hardwax-oil'?",
        ),
        (
            "finishes",
            FINISH.replace("tin-oil:", "tung-oil:"),
            1,
            "tung-oil",
            "'tung-oil' is already in the catalogue",
            "under 'overrides' in the shop file",
        ),
        ("finishes", FINISH.replace("tin-oil:", "Tin Oil:"), 1, "Tin Oil", "'Tin Oil' is no name", "small letters"),
        ("finishes", FINISH.replace("label", "lable"), 4, "tin-oil.basis", "'lable' is not", "'label'?"),
        (
            "finishes",
            f"{FINISH}  sources: {{recoat: lable}}\n",
            8,
            "tin-oil.sources.recoat",
            "'lable' is not",
            "'label'?",
        ),
        ("finishes", "tin-oil: 5\n", 1, "tin-oil", "'5' stands where a group of fields belongs", "fields such as"),
        ("finishes", "tin-oil:\n  title: Oil\n", 1, "tin-oil.basis", "field 'basis' is missing", "it must be given"),
        (
            "systems",
            SYSTEM,
            7,
            "tin-oil.steps[1].finish",
            "'tin-oil' is not among the finishes",
            "did you mean 'tinted-oil'?",
        ),
        (
            "sources",
            "practice:\n  title: Ours\n  rests: practice\n",
            1,
            "practice",
            "'practice' is already in the catalogue",
            "a name of its own",
        ),
        (
            "finishes",
            f"{FINISH}  recoat-limit: 5 h\n",
            8,
            "tin-oil.recoat-limit",
            "by then the next coat may not go on yet",
            "no shorter a time than 'recoat' has",
        ),
        (
            "finishes",
            f"{FINISH}  light-use: 3 d\n  cure: 2 d\n",
            9,
            "tin-oil.cure",
            "this comes sooner than 'light-use'",
            "no shorter than 'light-use' has",
        ),
        ("systems", SYSTEM.replace("coat, finish", "fill, finish"), 5, "tin-oil.steps", "no coat is", "'do: coat'"),
        ("systems", SYSTEM.replace("    - {do: sand}\n", ""), 5, "tin-oil.steps", "nobody has sanded", "'do: sand'"),
        ("systems", SYSTEM.partition("\n")[0] + LONG, 1, "tin-oil.steps", "too much is listed", "60 at the most"),
        ("systems", SYSTEM.partition("\n")[0] + EMPTY, 1, "tin-oil.steps", "too little is listed", "1 at the least"),
        ("finish", FINISH, 1, "the file", "'finish.yaml' is named after no kind of record", "did you mean 'finishes'?"),
        ("timbers", "plum: [1", 1, "the file", "a bracket or a brace is opened here and never closed", "close it"),
    ],
)
def test_a_slip_is_told_with_its_file_and_line(
    folder: Path, kind: str, text: str, line: int, where: str, wrong: str, expected: str
) -> None:
    write(folder, **{kind: text})
    problem = read(folder)[1][0]
    assert problem.file == folder / "my-records" / f"{kind}.yaml"
    assert (problem.line, problem.where) == (line, where)
    assert wrong in problem.wrong
    assert expected in problem.expected


@pytest.mark.parametrize("name", ["../my-records", "/etc", ".", "..", "lost", "my/records", "''", "[a]", "shop.yaml"])
def test_only_a_folder_beside_the_shop_file_is_read(folder: Path, name: str) -> None:
    (folder / "shop.yaml").write_text(f"shop: Harbour Lane\nrecords: {name}\n", encoding="utf-8")
    (problem,) = read(folder)[1]
    assert (problem.file.name, problem.line, problem.where) == ("shop.yaml", 2, "records")
    assert "a folder beside the shop file" in problem.expected


def test_no_link_leads_out_of_the_folder(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    outside = tmp_path_factory.mktemp("outside")
    (outside / "finishes.yaml").write_text(FINISH, encoding="utf-8")
    (folder / "my-records" / "finishes.yaml").symlink_to(outside / "finishes.yaml")
    assert [problem.wrong for problem in read(folder)[1]] == ["is a link that leads out of the folder"]
    (folder / "my-records" / "finishes.yaml").unlink()
    (folder / "my-records").rmdir()
    (folder / "my-records").symlink_to(outside, target_is_directory=True)
    assert [problem.wrong for problem in read(folder)[1]] == ["'my-records' is a link that leads out of the folder"]


def test_own_records_are_changed_in_their_own_file(folder: Path) -> None:
    write(folder, finishes=FINISH)
    with (folder / "shop.yaml").open("a", encoding="utf-8") as shop:
        shop.write("overrides: {finishes: {tin-oil: {recoat: 5 h}}}\n")
    (problem,) = read(folder)[1]
    assert (problem.file.name, problem.line) == ("shop.yaml", 3)
    assert problem.wrong == "'tin-oil' is a record of your own"


def test_every_problem_of_every_file_is_told(folder: Path) -> None:
    write(folder, finishes=FINISH.replace("6/8/10 h", "soon"), systems=SYSTEM.replace("{do: sand}", "{do: polish}"))
    assert {problem.file.name for problem in read(folder)[1]} == {"finishes.yaml", "systems.yaml"}


def test_a_wrong_source_is_told_once_where_it_stands_and_the_path_as_it_is_given(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(folder, systems=SYSTEM.replace("practice", "practise").replace("finish: tin-oil", "finish: tung-oil"))
    monkeypatch.chdir(folder)
    (problem,) = workshop_and_problems(Path("shop.yaml"))[2]
    assert str(problem).startswith("my-records/systems.yaml:4:10: tin-oil.basis: 'practise' is not among the sources")
    _, (finding,) = overruled(bundled_catalogue(), {"finishes": {"tung-oil": {"recoat": "20 h", "basis": "lable"}}})
    assert finding.path == ("finishes", "tung-oil", "basis")


def test_what_a_shop_overrules_rests_on_the_label() -> None:
    overrides = {"finishes": {"tung-oil": {"recoat": "20 h", "spread-rate": {"first": "9 m2/l"}}}}
    own = overruled(bundled_catalogue(), overrides)[0].finishes["tung-oil"]
    assert own.source_of("recoat") == own.source_of("spread-rate.first") == "label"
    assert own.source_of("touch-dry") == "finisher-articles"
    assert own.source_of("contact") == "21-cfr-175-300"


def test_what_a_shop_overrules_may_name_its_source() -> None:
    overrides = {"finishes": {"tung-oil": {"recoat": "20 h", "cure": "9 d", "basis": "practice"}}}
    overrides["finishes"]["tung-oil"]["sources"] = {"cure": "memory"}  # type: ignore[assignment]
    own = overruled(bundled_catalogue(), overrides)[0].finishes["tung-oil"]
    assert (own.source_of("recoat"), own.source_of("cure")) == ("practice", "memory")
