"""Whether everything that may be written in a record is explained."""

from __future__ import annotations

import pytest

from finplan.catalogue import MODELS, RECORD_NAMES
from finplan.lookup.fields import WIDTH, fields_of_kind, kind_lines
from finplan.reading import FieldOf, read_document
from finplan.resources import data_dir
from tests.each import each

FIELDS = [pytest.param(kind, field, id=f"{kind}/{field.name}") for kind in MODELS for field in fields_of_kind(kind)]


@each(("kind", "field"), FIELDS)
def test_every_field_says_what_it_is_and_how_it_is_written(kind: str, field: FieldOf) -> None:
    assert field.about.endswith("."), (kind, field.name)
    assert 5 <= len(field.about) <= 150, (kind, field.name)
    assert field.form, (kind, field.name)
    for inner in ("Annotated", "class", "typing", "Range(", "None |"):
        assert inner not in field.form, (kind, field)


@pytest.mark.parametrize("kind", list(MODELS))
def test_every_field_in_use_is_explained(kind: str) -> None:
    explained = {field.name.partition(".")[0] for field in fields_of_kind(kind)}
    for name, record in read_document(data_dir("catalogue") / f"{kind}.yaml").data.items():
        assert set(record) <= explained, name


@pytest.mark.parametrize("kind", list(MODELS))
def test_what_is_required_is_there_in_every_record(kind: str) -> None:
    required = {field.name for field in fields_of_kind(kind) if field.required and "." not in field.name}
    for name, record in read_document(data_dir("catalogue") / f"{kind}.yaml").data.items():
        assert required <= set(record), name


@pytest.mark.parametrize(
    ("kind", "field", "target"), [(k, f, t) for k, named in RECORD_NAMES.items() for f, t in named.items()]
)
def test_names_of_records_say_whose(kind: str, field: str, target: str) -> None:
    (found,) = [one for one in fields_of_kind(kind) if one.name == field]
    assert f"of {target}.yaml" in found.form


@pytest.mark.parametrize(
    ("kind", "name", "form", "required"),
    [
        ("finishes", "spread-rate.first", "a spread rate or three, low/typical/high: 15/22/30 m2/l", True),
        ("finishes", "recoat-limit", "a duration or three, low/typical/high: 6/9/12 h", False),
        ("finishes", "mix.components.parts", "a number from 0.001 to 1000", True),
        ("finishes", "thinner-solvent", "a name of solvents.yaml", False),
        ("finishes", "methods", "a list, each a name of methods.yaml", True),
        ("timbers", "pores", "one of ring-porous, semi-ring-porous, diffuse-porous, softwood", True),
        ("solvents", "components", "names of solvents.yaml, each with a number", False),
        ("cautions", "rank", "a whole number from 1 to 9", True),
        ("grades", "sizes", "names, each with a grain size in µm: 58.5", True),
        ("packs", "basis", "a name of sources.yaml", True),
    ],
)
def test_how_it_is_written(kind: str, name: str, form: str, required: bool) -> None:
    (found,) = [one for one in fields_of_kind(kind) if one.name == name]
    assert (found.form, found.required) == (form, required)


@pytest.mark.parametrize("kind", list(MODELS))
def test_it_fits_the_screen(kind: str) -> None:
    lines = kind_lines(kind)
    assert lines[0].startswith(f"{kind}.yaml: ")
    assert all(len(line) <= WIDTH and line == line.rstrip() for line in lines)
