"""Every field of a record that holds a number has a lowest and a highest: whatever a shop overrides it with."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import MODELS
from finplan.reading import read_document, validate
from finplan.resources import data_dir
from tests.conftest import Cli
from tests.each import each

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_QUANTITY = re.compile(r"\d[-\d./ ]*(?: to [-\d./ ]+)?[%\w°/ ]{0,12}")
_NO_NUMBERS = frozenset({"sources", "fault-causes", "cautions", "contact", "waste-cans", "equipment"})
_LARGE, _SMALL = "1e99", "-1e99"
_WORDS = frozenset(
    {"title", "basis", "sources", "notes", "about", "reason", "remedy", "text", "cas", "section", "name"}
)
"""Fields that hold words, with or without a figure in them."""


def _numbers(held: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Give the places of what is a number, or of text that is a quantity."""
    if isinstance(held, dict):
        for name, value in held.items():
            if name not in _WORDS:
                yield from _numbers(value, (*path, name))
    elif isinstance(held, list):
        for index, value in enumerate(held):
            yield from _numbers(value, (*path, index))
    elif (isinstance(held, str) and _QUANTITY.fullmatch(held)) or (
        isinstance(held, (int, float)) and not isinstance(held, bool)
    ):
        yield path


def _with(held: Any, path: tuple[str | int, ...], value: Any) -> Any:
    if not path:
        return value
    copy: Any = dict(held) if isinstance(held, dict) else list(held)
    copy[path[0]] = _with(held[path[0]], path[1:], value)
    return copy


def _as(held: Any, number: str) -> Any:
    if isinstance(held, str):
        return _NUMBER.sub(number, held)
    return int(float(number)) if isinstance(held, int) else float(number)


def _cases() -> Iterator[tuple[str, str, tuple[str | int, ...]]]:
    """Give one record for each field of each kind that holds a number."""
    for kind in MODELS:
        seen: set[tuple[str, ...]] = set()
        for name, fields in read_document(data_dir("catalogue") / f"{kind}.yaml").data.items():
            for path in _numbers(fields):
                field = tuple(step for step in path if isinstance(step, str))
                if field not in seen:
                    seen.add(field)
                    yield kind, name, path


CASES = list(_cases())


def test_the_fields_are_found() -> None:
    assert len(CASES) > 80
    assert {kind for kind, _, _ in CASES} >= set(MODELS) - _NO_NUMBERS - {"compatibility"}


@each(("kind", "name", "path"), CASES)
def test_no_field_takes_a_number_of_any_size(kind: str, name: str, path: tuple[str | int, ...]) -> None:
    fields = read_document(data_dir("catalogue") / f"{kind}.yaml").data[name]
    held: Any = fields
    for step in path:
        held = held[step]
    assert validate(MODELS[kind], fields)[0] is not None
    for number in (_LARGE, _SMALL):
        record, findings = validate(MODELS[kind], _with(fields, path, _as(held, number)))
        assert record is None, f"{path} takes {number}"
        assert findings


@pytest.mark.parametrize(
    "overrides",
    [
        "{solvents: {white-spirit: {lower-flammable-limit: 0 %}}}",
        "{solvents: {white-spirit: {vapour-pressure: 0 kPa}}}",
        "{finishes: {hardwax-oil: {voc: 1e300 g/l}}}",
        "{finishes: {hardwax-oil: {wipe-off: 1e308 h}}}",
    ],
)
def test_what_cannot_be_reckoned_with_is_told_with_its_line(
    overrides: str, tmp_path: Path, example: Path, cli: Cli
) -> None:
    shop = tmp_path / "shop.yaml"
    shop.write_text(f"shop: Yard\noverrides: {overrides}\n", encoding="utf-8")
    ended = cli("safety", example, "--shop", shop)
    assert ended.status == 2
    assert ended.err.startswith(f"{shop}:2:")
    assert "expected" in ended.err
