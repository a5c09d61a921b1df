"""What holds for the records of every kind."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from finplan.catalogue import MODELS, Sourced, SourceRecord, bundled_catalogue
from finplan.catalogue.record import values_by_name
from finplan.quantity import Range
from finplan.resources import data_dir
from tests.catalogue.whole import load_catalogue
from tests.each import each

CATALOGUE = bundled_catalogue()
RECORDS = [
    pytest.param(kind, name, record, id=f"{kind}/{name}")
    for kind, named in CATALOGUE.kinds().items()
    for name, record in named.items()
]
TIMBERS = [
    *["ash", "white-oak", "red-oak", "elm", "chestnut", "hickory", "walnut", "teak", "sugar-maple", "red-maple"],
    *["sycamore", "cherry", "beech", "birch", "poplar", "alder", "lime", "mahogany", "sapele", "iroko"],
    *["white-pine", "ponderosa-pine", "douglas-fir", "spruce", "larch"],
]
SYSTEMS = [
    *["hardwax-oil", "hardwax-oil-2k", "linseed-oil", "tung-oil", "oil-varnish-blend", "oil-varnish"],
    *["oil-polyurethane", "waterborne-polyurethane", "shellac", "lacquer", "catalysed-lacquer", "polyurethane-2k"],
    *["wax", "soap", "casein-paint", "alkyd-enamel", "acrylic-enamel", "stain-and-varnish", "dye-and-waterborne"],
]


def ranges(record: Any) -> Iterator[Range]:
    """Every range in a record, however deep."""
    for field in type(record).model_fields:
        value = getattr(record, field)
        if isinstance(value, Range):
            yield value
        elif hasattr(type(value), "model_fields"):
            yield from ranges(value)


def test_every_kind_has_records() -> None:
    assert list(CATALOGUE.kinds()) == list(MODELS)
    assert all(CATALOGUE.kinds().values())


@pytest.mark.parametrize(("kind", "expected"), [("timbers", TIMBERS), ("systems", SYSTEMS)])
def test_names_that_piece_files_rely_on_are_there(kind: str, expected: list[str]) -> None:
    assert set(expected) <= set(CATALOGUE.kinds()[kind])


def test_methods_and_surfaces_that_shop_and_piece_files_rely_on_are_there() -> None:
    assert set(CATALOGUE.methods) >= {"wipe", "brush", "pad", "roller", "spray-hvlp", "spray-conventional", "spatula"}
    assert set(CATALOGUE.sanding_methods) >= {"random-orbit-125", "random-orbit-150", "hand", "lathe"}
    assert set(CATALOGUE.surfaces) >= {"planed", "sawn", "routed", "turned", "glued", "hand-planed", "stripped"}


@each(("kind", "name", "record"), RECORDS)
def test_names_are_plain_words_with_dashes(kind: str, name: str, record: Any) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name), (kind, name, record.title)


@pytest.mark.parametrize("kind", [kind for kind in MODELS if kind != "sources"])
def test_titles_tell_the_records_of_a_kind_apart(kind: str) -> None:
    titles = [record.title for record in CATALOGUE.kinds()[kind].values()]
    assert len(set(titles)) == len(titles)


@each(("kind", "name", "record"), RECORDS)
def test_ranges_are_in_order(kind: str, name: str, record: Any) -> None:
    for one in ranges(record):
        assert 0 <= one.low <= one.typical <= one.high, (kind, name, one)


def paths(held: Any, path: tuple[str, ...] = ()) -> Iterator[str]:
    """The path of every value in a record, as its sources name it."""
    known = values_by_name(held)
    for name, value in known.items():
        yield ".".join((*path, name))
        yield from paths(value, (*path, name))


@each(("kind", "name", "record"), RECORDS)
def test_every_value_has_a_source(kind: str, name: str, record: Any) -> None:
    if kind == "sources":
        return
    for path in paths(record):
        assert record.source_of(path) in CATALOGUE.sources, (kind, name, path)


def test_every_source_is_used_and_every_key_resolves() -> None:
    used: set[str] = set()
    for named in CATALOGUE.kinds().values():
        for record in named.values():
            if isinstance(record, Sourced):
                used |= record.source_keys()
    assert used == set(CATALOGUE.sources) - {"label"}  # which is for what a shop says


def test_practice_and_memory_are_named_for_what_they_are() -> None:
    assert CATALOGUE.sources["practice"].rests == "practice"
    assert CATALOGUE.sources["memory"].rests == "memory"
    assert not CATALOGUE.sources["memory"].verified


def test_nothing_recalled_passes_for_seen() -> None:
    recalled = [key for key, source in CATALOGUE.sources.items() if source.rests == "memory" and source.verified]
    assert recalled == []


SOURCES = [pytest.param(source, id=key) for key, source in CATALOGUE.sources.items()]


@each("source", SOURCES)
def test_what_is_recalled_rests_on_memory(source: SourceRecord) -> None:
    recalled = re.search(r"recall|memory", f"{source.title} {source.section}", re.IGNORECASE)
    assert not recalled or source.rests == "memory"


@each("source", SOURCES)
def test_what_was_published_has_an_edition_and_a_place(source: SourceRecord) -> None:
    """A year or the number of an edition, else that it was not noted; and where in it."""
    if source.rests != "published" or source == CATALOGUE.sources["label"]:
        return
    assert source.section
    dated = re.search(r"\b(18|19|20)\d\d\b|\bed\.|edition not noted|undated", f"{source.title} {source.section}")
    assert dated


@pytest.mark.parametrize(
    ("field", "key"),
    [
        ("spread-rate.first", "wood-handbook-stain"),  # its own
        ("spread-rate.next", "practice"),  # the record's, for the group has none
        ("recoat", "practice"),
    ],
)
def test_the_source_of_a_value_is_its_own_else_that_of_the_record(field: str, key: str) -> None:
    assert CATALOGUE.finishes["oil-stain"].source_of(field) == key


def test_the_source_of_a_value_in_a_group_is_that_of_the_group() -> None:
    pine = CATALOGUE.timbers["white-pine"]
    assert pine.source_of("shrinkage.radial") == "wood-handbook-shrinkage"
    assert pine.source_of("shrinkage.volumetric") == "memory"


def test_a_kind_that_is_read_when_it_is_asked_for_is_what_all_of_them_read_at_once_hold() -> None:
    # The bundled catalogue looks for no fault in references between kinds; that is done here.
    assert bundled_catalogue() == load_catalogue(data_dir("catalogue"))
