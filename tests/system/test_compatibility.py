"""What goes on what: the rules of the catalogue, and what is found in whole pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import pytest

from finplan.catalogue import Catalogue, Compatibility, Step, bundled_catalogue, read_own, with_own
from finplan.catalogue.compatibility import FINISH_WORDS, TIMBER_WORDS, finish_called, is_called, timber_called
from finplan.catalogue.compatibility import Ruling as RuleVerdict
from finplan.inputs import Known, Piece, piece_file_of
from finplan.problems import Finding
from finplan.reading import read_document
from finplan.surface import piece_surface
from finplan.system import Treatment, compatibility_findings, mismatches, own_system_risks, treatments
from tests.conftest import EXAMPLE
from tests.each import each

CATALOGUE = bundled_catalogue()
RULES = [pytest.param(name, rule, id=name) for name, rule in CATALOGUE.compatibility.items()]

# --- the timbers by what they do, by hand: practice, and the species table of the Wood Handbook, chapters 2 to 4 ------

OILY = {"teak", "iroko"}
TANNIN = {"white-oak", "red-oak", "chestnut", "walnut"}
RESIN = {"white-pine", "ponderosa-pine", "spruce", "larch", "douglas-fir"}
BLOTCHING = {
    *["sugar-maple", "red-maple", "sycamore", "cherry", "birch", "paper-birch", "poplar", "alder", "lime"],
    *["white-pine", "ponderosa-pine", "spruce"],
}
DARK = {"walnut", "teak", "cherry", "mahogany", "african-mahogany", "sapele", "iroko"}
PORES = {
    *["ash", "white-oak", "red-oak", "elm", "chestnut", "hickory", "walnut"],
    *["mahogany", "african-mahogany", "sapele", "iroko"],
}
SHEETS = {"birch-plywood": "birch", "oak-veneered-board": "white-oak", "walnut-veneered-board": "walnut"}
"""Sheets, and the timber that their faces are of."""
for _rule in (OILY, TANNIN, RESIN, BLOTCHING, DARK, PORES):
    _rule |= {sheet for sheet, timber in SHEETS.items() if timber in _rule}
EVEN = {"beech", "mdf"}
"""Nothing of all that."""

# Each system with the rules it breaks and the timbers on which it breaks them; on every other timber it is in order.
GOLDEN: dict[str, dict[str, set[str]]] = {
    "hardwax-oil": {},
    "hardwax-oil-2k": {},
    "linseed-oil": {},
    "tung-oil": {},
    "oil-varnish-blend": {},
    "oil-varnish": {"varnish-on-oily-timber": OILY},  # does not harden over their oils
    "oil-polyurethane": {"varnish-on-oily-timber": OILY},
    "waterborne-polyurethane": {
        "film-on-oily-timber": OILY,
        "waterborne-on-tannin": TANNIN,  # water draws it out
        "waterborne-on-resin": RESIN,
    },
    "shellac": {"pores-not-filled": PORES},  # seals oil, tannin and resin, but is rubbed flat
    "lacquer": {"film-on-oily-timber": OILY},
    "catalysed-lacquer": {"film-on-oily-timber": OILY},
    "polyurethane-2k": {},  # isolates oil, and fills pores
    "wax": {},
    "soap": {"soap-on-dark-timber": DARK | TANNIN},
    "casein-paint": {"film-on-oily-timber": OILY, "paint-on-tannin": TANNIN, "paint-on-resin": RESIN},
    "alkyd-enamel": {"varnish-on-oily-timber": OILY, "paint-on-resin": RESIN, "pores-not-filled": PORES},
    "acrylic-enamel": {
        "film-on-oily-timber": OILY,
        "paint-on-tannin": TANNIN,
        "paint-on-resin": RESIN,
        "pores-not-filled": PORES,
    },
    "stain-and-varnish": {"varnish-on-oily-timber": OILY, "colour-on-blotching-timber": BLOTCHING},
    "dye-and-waterborne": {"dye-on-tannin": TANNIN, "colour-on-blotching-timber": BLOTCHING},  # shellac lies between
    "tinted-oil": {"tinted-oil-on-blotching-timber": BLOTCHING},
    "tinted-oil-2k": {"tinted-oil-on-blotching-timber": BLOTCHING},
}
REFUSED = {
    (system, timber) for system in ("oil-varnish", "oil-polyurethane", "alkyd-enamel", "stain-and-varnish")
    for timber in OILY
}  # fmt: skip
"""The only pairs that cannot be planned at all."""


def test_the_golden_table_speaks_of_every_system_and_timber() -> None:
    assert set(GOLDEN) == set(CATALOGUE.systems)
    assert set(CATALOGUE.timbers) == OILY | TANNIN | RESIN | BLOTCHING | DARK | PORES | EVEN


@each("timber", list(CATALOGUE.timbers))
@each("system", list(CATALOGUE.systems))
def test_every_system_on_every_timber(system: str, timber: str, tmp_path: Path) -> None:
    text = f"timber: {timber}\nsystem: {system}\n{BOARD}"
    found = {clash.rule for one in treated(text, tmp_path)[1] for clash in mismatches(one, CATALOGUE)}
    assert found == {rule for rule, timbers in GOLDEN[system].items() if timber in timbers}
    verdicts = {CATALOGUE.compatibility[rule].verdict for rule in found}
    assert ("refuse" in verdicts) is ((system, timber) in REFUSED)


# --- coat over coat -------------------------------------------------------------------------------------------------

BOARD = "piece: Board\nparts: {board: {shape: board, length: 800 mm, width: 200 mm, thickness: 20 mm}}\n"


def treated(text: str, folder: Path, catalogue: Catalogue = CATALOGUE) -> tuple[Piece, tuple[Treatment, ...]]:
    """The piece in *text*, and what it gets in a shop that can do everything."""
    file = folder / "piece.yaml"
    file.write_text(text, encoding="utf-8")
    known = Known(catalogue.timbers, catalogue.systems, catalogue.surfaces)
    loaded = piece_file_of(read_document(file), known, folder=folder)
    assert loaded.sound, loaded.problems
    piece = loaded.piece
    return piece, treatments(piece, piece_surface(piece), catalogue, tuple(catalogue.methods))


def with_system(steps: Sequence[Mapping[str, Any]], catalogue: Catalogue = CATALOGUE) -> Catalogue:
    """The catalogue with a system called ``tried`` of these steps."""
    system = catalogue.systems["hardwax-oil"].model_copy(
        update={"steps": tuple(Step.model_validate(step) for step in steps)}
    )
    return replace(catalogue, systems={**catalogue.systems, "tried": system})


def with_finish(name: str, **fields: Any) -> Catalogue:
    changed = CATALOGUE.finishes[name].model_copy(update=fields)
    return replace(CATALOGUE, finishes={**CATALOGUE.finishes, name: changed})


def broken(
    finishes: Sequence[str], folder: Path, timber: str = "beech", catalogue: Catalogue = CATALOGUE
) -> dict[str, RuleVerdict]:
    """The rules that coats of *finishes* break, from the wood up; the grain is raised first."""
    steps = [{"do": "sand"}, {"do": "raise-grain"}, *({"do": "coat", "finish": name} for name in finishes)]
    tried = with_system(steps, catalogue)
    _, found = treated(f"timber: {timber}\nsystem: tried\n{BOARD}", folder, tried)
    return {clash.rule: tried.compatibility[clash.rule].verdict for one in found for clash in mismatches(one, tried)}


# From the wood up. Source: trade practice, as the notes of the finishes in the catalogue say it.
PAIRS: list[tuple[list[str], dict[str, str]]] = [
    (["tung-oil", "waterborne-polyurethane"], {"waterborne-over-oil": "refuse"}),
    (["tung-oil", "shellac", "waterborne-polyurethane"], {}),
    (["oil-stain", "waterborne-polyurethane"], {"waterborne-over-oil-stain": "refuse"}),
    (["oil-stain", "shellac", "waterborne-polyurethane"], {}),
    (["oil-stain", "oil-varnish"], {}),
    (["oil-varnish-blend", "acrylic-enamel"], {"waterborne-over-oil": "refuse"}),
    (["alkyd-primer", "acrylic-enamel"], {}),
    (["shellac-primer", "alkyd-enamel"], {}),
    (["paste-wax", "oil-varnish"], {"anything-over-wax": "refuse"}),
    (["paste-wax", "hardwax-oil-2k"], {"anything-over-wax": "refuse"}),
    (["paste-wax", "paste-wax"], {}),
    (["oil-varnish", "paste-wax"], {}),
    (["hardwax-oil", "oil-varnish"], {"anything-over-hardwax-oil": "refuse"}),
    (["hardwax-oil", "shellac"], {"anything-over-hardwax-oil": "refuse"}),
    (["hardwax-oil", "hardwax-oil"], {}),
    (["hardwax-oil", "paste-wax"], {}),
    (["oil-varnish", "hardwax-oil"], {"hardwax-oil-over-film": "refuse"}),
    (["oil-varnish", "hardwax-oil-2k"], {"hardwax-oil-2k-over-anything": "refuse"}),
    (["hardwax-oil-2k", "hardwax-oil-2k"], {"hardwax-oil-2k-over-anything": "refuse"}),
    (["water-dye", "hardwax-oil-2k"], {}),
    (["tinted-oil", "hardwax-oil"], {}),  # the clear coat keeps the colour
    (["shellac", "tung-oil"], {"oil-over-film": "refuse"}),
    (["shellac", "soap-flakes"], {"soap-over-film": "refuse"}),
    (["casein-paint", "tung-oil"], {}),
    (["soap-flakes", "tung-oil"], {"anything-over-soap": "refuse"}),
    (["soap-flakes", "soap-flakes"], {}),
    (["lacquer-sanding-sealer", "oil-polyurethane"], {"polyurethane-over-stearate": "refuse"}),
    (["lacquer-sanding-sealer", "nitrocellulose-lacquer"], {}),
    (["boiled-linseed-oil", "nitrocellulose-lacquer"], {"lacquer-over-oil": "refuse"}),
    (["alkyd-enamel", "nitrocellulose-lacquer"], {"lacquer-over-oil": "refuse"}),
    (["boiled-linseed-oil", "shellac", "nitrocellulose-lacquer"], {}),
    (["oil-varnish", "catalysed-lacquer"], {"catalysed-over-oil": "refuse"}),
    (["shellac", "catalysed-lacquer"], {"catalysed-over-shellac": "refuse"}),
    (["shellac", "pre-catalysed-lacquer"], {"catalysed-over-shellac": "refuse"}),
    (["nitrocellulose-lacquer", "catalysed-lacquer"], {"catalysed-over-nitrocellulose": "refuse"}),
    (["catalysed-lacquer", "shellac"], {"shellac-over-catalysed": "warn"}),
    (["oil-varnish-blend", "oil-varnish"], {"varnish-over-blend": "warn"}),
    (["tung-oil", "oil-varnish"], {"varnish-over-pure-oil": "warn"}),
    (
        ["boiled-linseed-oil", "alkyd-enamel"],
        {"varnish-over-pure-oil": "warn", "paint-over-linseed-oil": "warn"},
    ),
    (["water-dye", "waterborne-polyurethane"], {"film-over-water-dye": "warn"}),
    (["alcohol-dye", "shellac"], {"film-over-alcohol-dye": "warn"}),
    (["alcohol-dye", "waterborne-polyurethane"], {}),
]


@pytest.mark.parametrize(("finishes", "expected"), PAIRS, ids=["-then-".join(pair[0]) for pair in PAIRS])
def test_coat_over_coat(finishes: list[str], expected: dict[str, str], tmp_path: Path) -> None:
    assert broken(finishes, tmp_path) == expected


def test_every_rule_of_coats_is_tried_above() -> None:
    tried = {rule for _, expected in PAIRS for rule in expected} | {"film-over-waxed-shellac"}
    assert tried == {name for name, rule in CATALOGUE.compatibility.items() if rule.under}


@pytest.mark.parametrize("over", ["waterborne-polyurethane", "oil-varnish", "polyurethane-2k"])
def test_shellac_with_its_wax_in_it(over: str, tmp_path: Path) -> None:
    waxed = with_finish("shellac", waxed=True)
    assert broken(["shellac", over], tmp_path) == {}
    assert broken(["shellac", over], tmp_path, catalogue=waxed) == {"film-over-waxed-shellac": "refuse"}


def test_a_shop_s_own_tin_goes_as_the_finish_that_it_is_like(tmp_path: Path) -> None:
    (tmp_path / "finishes.yaml").write_text("yard-oil: {like: hardwax-oil, title: Yard oil}\n", encoding="utf-8")
    catalogue, problems = with_own(CATALOGUE, read_own(tmp_path))
    assert problems == []
    found = broken(["yard-oil", "oil-varnish"], tmp_path, catalogue=catalogue)
    assert found == {"anything-over-hardwax-oil": "refuse"}


@pytest.mark.parametrize(("recoat", "fresh"), [("16 h", True), ("72 h", False)])
def test_a_stain_that_is_left_to_harden_takes_water(recoat: str, fresh: bool, tmp_path: Path) -> None:
    """Three days is the typical time of the rule; the shop's own record of the stain says how long it is left."""
    hours = float(recoat.split()[0])
    stain = CATALOGUE.finishes["oil-stain"]
    left = with_finish("oil-stain", recoat_h=replace(stain.recoat_h, low=hours, typical=hours, high=hours))
    found = broken(["oil-stain", "waterborne-polyurethane"], tmp_path, catalogue=left)
    assert ("waterborne-over-oil-stain" in found) is fresh


def test_what_is_rubbed_out_has_cured_before(tmp_path: Path) -> None:
    steps = [
        {"do": "sand"},
        {"do": "coat", "finish": "tung-oil"},
        {"do": "rub-out", "grit": "P600"},
        {"do": "coat", "finish": "oil-varnish"},
    ]
    tried = with_system(steps)
    _, found = treated(f"timber: beech\nsystem: tried\n{BOARD}", tmp_path, tried)
    assert [clash for one in found for clash in mismatches(one, tried)] == []


@pytest.mark.parametrize(("name", "rule"), [one for one in RULES if CATALOGUE.compatibility[str(one.id)].tie_coat])
def test_a_tie_coat_is_a_film_that_the_rule_itself_allows(name: str, rule: Compatibility) -> None:
    assert rule.tie_coat is not None
    tie = finish_called(rule.tie_coat, CATALOGUE.finishes[rule.tie_coat])
    assert "film-forming" in tie
    assert "waxed" not in tie
    assert not is_called(rule.over, tie), name


# --- what a system asks of the timber -------------------------------------------------------------------------------


def steps_break(steps: Sequence[Mapping[str, Any]], timber: str, folder: Path, **system: Any) -> set[str]:
    tried = with_system(steps)
    changed = tried.systems["tried"].model_copy(update=system)
    tried = replace(tried, systems={**tried.systems, "tried": changed})
    _, found = treated(f"timber: {timber}\nsystem: tried\n{BOARD}", folder, tried)
    return {clash.rule for one in found for clash in mismatches(one, tried)}


WATERBORNE = {"do": "coat", "finish": "waterborne-polyurethane"}
FILL = {"do": "fill", "finish": "water-grain-filler"}


def test_water_on_wood_whose_grain_was_not_raised(tmp_path: Path) -> None:
    assert steps_break([{"do": "sand"}, WATERBORNE], "beech", tmp_path) == {"grain-not-raised"}
    assert steps_break([{"do": "sand"}, {"do": "raise-grain"}, WATERBORNE], "beech", tmp_path) == set()
    sealed = [{"do": "sand"}, {"do": "coat", "finish": "shellac"}, WATERBORNE]
    assert steps_break(sealed, "beech", tmp_path) == set()


def test_pores_under_a_flat_finish(tmp_path: Path) -> None:
    coat = {"do": "coat", "finish": "polyurethane-2k"}
    assert steps_break([{"do": "sand"}, coat], "ash", tmp_path) == set()
    assert steps_break([{"do": "sand"}, coat], "ash", tmp_path, flat=True) == {"pores-not-filled"}
    assert steps_break([{"do": "sand"}, FILL, coat], "ash", tmp_path, flat=True) == set()
    assert steps_break([{"do": "sand"}, coat], "beech", tmp_path, flat=True) == set()


@pytest.mark.parametrize(
    ("finish", "stop", "rule"),
    # Finer than P240 under stain or dye, than P320 under oil or varnish: practice.
    [
        ("oil-stain", "P240", None),
        ("oil-stain", "P320", "burnished-under-colour"),
        ("tung-oil", "P320", None),
        ("tung-oil", "P400", "burnished-under-oil"),
        ("oil-varnish", "P400", "burnished-under-oil"),
        ("paste-wax", "P400", None),
    ],
)
def test_wood_that_is_sanded_too_fine(finish: str, stop: str, rule: str | None, tmp_path: Path) -> None:
    stops = CATALOGUE.systems["tung-oil"].stop_grit.model_copy(update={"closed": stop})
    found = steps_break([{"do": "sand"}, {"do": "coat", "finish": finish}], "beech", tmp_path, stop_grit=stops)
    assert found == ({rule} if rule else set())


@pytest.mark.parametrize(
    ("timber", "finishes"),
    [
        ("white-oak", ["shellac", "waterborne-polyurethane"]),
        ("white-pine", ["shellac", "waterborne-polyurethane"]),
        ("white-pine", ["shellac-primer", "acrylic-enamel"]),
        ("teak", ["shellac", "oil-varnish"]),
        ("teak", ["polyurethane-2k"]),
        ("cherry", ["gel-stain", "oil-varnish"]),
        ("cherry", ["shellac", "oil-stain"]),
    ],
)
def test_what_is_sealed_no_longer_meets_the_wood(timber: str, finishes: list[str], tmp_path: Path) -> None:
    assert broken(finishes, tmp_path, timber) == {}


# --- the rules themselves -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "rule"), RULES)
def test_a_rule_reads_as_the_two_halves_of_a_line(name: str, rule: Compatibility) -> None:
    for text in (rule.reason, rule.remedy):
        assert text[0].islower(), name
        assert not text.endswith("."), name
    assert len(rule.reason) <= 100, name
    assert len(rule.remedy) <= 100, name


def test_every_word_of_rules_is_used_and_says_something() -> None:
    said = {
        word.removeprefix("not ") for rule in CATALOGUE.compatibility.values() for word in (*rule.over, *rule.under)
    }
    called = frozenset[str]().union(*(finish_called(*item) for item in CATALOGUE.finishes.items()))
    assert said - FINISH_WORDS <= set(CATALOGUE.finishes)
    assert FINISH_WORDS - called == {"waxed"}  # no bundled finish is, but a shop's shellac may be
    on = {word.removeprefix("not ") for rule in CATALOGUE.compatibility.values() for word in rule.on}
    assert on <= TIMBER_WORDS
    assert (
        frozenset[str]().union(*(timber_called(name, timber) - {name} for name, timber in CATALOGUE.timbers.items()))
        == TIMBER_WORDS
    )
    assert set(get_args(RuleVerdict)) == {rule.verdict for rule in CATALOGUE.compatibility.values()}


# --- where it is said -----------------------------------------------------------------------------------------------


def findings(text: str, folder: Path) -> list[Finding]:
    piece, found = treated(text, folder)
    return compatibility_findings(piece, found, CATALOGUE)


TEAK = EXAMPLE.replace("timber: ash", "timber: teak").replace("system: hardwax-oil", "system: oil-varnish")


ON_TEAK = EXAMPLE.replace("timber: ash", "timber: teak")
OWN_BASE = ("[leg, apron]", "[leg, apron], system: oil-varnish")


@pytest.mark.parametrize(
    ("text", "paths", "by_piece"),
    [
        (TEAK, {("system",)}, True),
        (
            EXAMPLE.replace("hardwax-oil", "oil-varnish").replace("diameter: 1100", "diameter: 1100\n    timber: teak"),
            {("parts", "top", "timber")},
            True,
        ),
        (
            ON_TEAK.replace("diameter: 1100", "diameter: 1100\n    system: oil-varnish"),
            {("parts", "top", "system")},
            False,
        ),
        (ON_TEAK.replace(*OWN_BASE), {("assemblies", "base", "system")}, False),
        (
            EXAMPLE.replace(*OWN_BASE).replace("shape: turned", "shape: turned\n    timber: teak"),
            {("parts", "leg", "timber")},
            False,
        ),
        (
            ON_TEAK.replace("diameter: 1100", "diameter: 1100\n    faces: {underside: {system: oil-varnish}}"),
            {("parts", "top", "faces", "underside", "system")},
            False,
        ),
    ],
    ids=["piece", "timber", "part", "assembly", "timber in an assembly", "face"],
)
def test_it_is_said_where_it_was_chosen(text: str, paths: set[tuple[str, ...]], by_piece: bool, tmp_path: Path) -> None:
    """And whether it is the system of the whole piece that may fail."""
    found = findings(text, tmp_path)
    assert {finding.path for finding in found} == paths
    assert len(found) == len(paths)
    assert own_system_risks(*treated(text, tmp_path), CATALOGUE) == by_piece


@pytest.mark.parametrize("system", ["waterborne-polyurethane", "acrylic-enamel"])
def test_what_bare_wood_asks_is_not_asked_under_a_film_that_stays(system: str, tmp_path: Path) -> None:
    """No fibre is raised and no cut edge drinks where an old coating is cleaned, dulled and coated once more."""
    board = EXAMPLE.replace("timber: ash", "timber: mdf").replace("system: hardwax-oil", f"system: {system}")
    kept = f"refinish: {{built: 2005, keep: true}}\n{board}"
    assert "grain-not-raised" not in {finding.name for finding in findings(kept, tmp_path)}
    _, found = treated(kept, tmp_path)
    coated = [step.finish for one in found for step in one.steps if step.finish is not None]
    assert set(coated) == {system}
