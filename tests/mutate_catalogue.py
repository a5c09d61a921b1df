"""Which values of the catalogue could be wrong by a factor of two without any test of values noticing.

Run as a program (``python -m tests.mutate_catalogue --size 60``): a seeded sample of the numeric fields that a plan
reads is halved or doubled, one at a time, and the tests that hold values against the outside and against physics are
run on each changed catalogue. What no test notices is printed, and the share that is noticed.

A changed catalogue takes the place of the bundled one in a child of this process, which has loaded everything already;
nothing on the disk is changed. A sample of 60 takes some five minutes of one processor.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, is_dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

import finplan.catalogue
import finplan.catalogue.loader
from finplan.catalogue import Catalogue, bundled_catalogue
from finplan.quantity import Range
from finplan.reading import Record, Span

ROOT = Path(__file__).resolve().parent.parent
PHYSICS = (
    *("test_finishes.py", "test_solvents.py", "test_systems.py", "test_timbers.py", "test_consumables.py"),
    *("test_litre.py", "test_said_and_held.py", "test_kin.py", "test_packs.py", "test_tools.py"),
    *("test_stages.py", "test_work.py"),
    *("test_abrasives_and_methods.py", "test_drying_and_moisture.py"),
)
"""What the records may not contradict, whatever their source says: in tests/catalogue."""
FACTORS = (0.5, 2.0)
_LABELS = ("title", "basis", "sources", "notes", "rank")
"""Fields that hold no quantity; the rank of a caution is an order."""

# One part of each sort of coating, so that every kind of field is read.
SAMPLER = """\
piece: Sampler of finishes
lengths: mm
timber: sugar-maple
system: oil-varnish
refinish: {built: 1950}
parts:
  a: {shape: rectangle, length: 400, width: 300, thickness: 20, system: shellac}
  b: {shape: rectangle, length: 400, width: 300, thickness: 20, system: catalysed-lacquer}
  c: {shape: rectangle, length: 400, width: 300, thickness: 20, system: polyurethane-2k}
  d: {shape: rectangle, length: 400, width: 300, thickness: 20, veneer: 0.6, system: stain-and-varnish}
"""
SAMPLER_SHOP = "shop: Sampler\nmethods: [wipe, brush, pad, spray-hvlp, random-orbit-125, hand, lathe, hand-pad]\n"


@dataclass(frozen=True)
class Place:
    """One numeric value of the catalogue."""

    kind: str
    name: str
    path: tuple[str, ...]
    owner: tuple[str, str]
    """The model that holds it, and its field there."""
    value: Any

    def __str__(self) -> str:
        """Return it as a person finds it."""
        return f"{self.kind}/{self.name}: {'.'.join(self.path)}"


@dataclass(frozen=True)
class Outcome:
    """A changed value, and the first test that noticed; None where none did."""

    place: Place
    factor: float
    noticed_by: str | None


def places(catalogue: Catalogue) -> list[Place]:
    """Return every number and range of numbers in the records that is not zero."""
    return [
        place
        for kind, named in catalogue.kinds().items()
        if kind != "sources"
        for name, record in named.items()
        for place in _places(kind, name, record, (), ("", ""))
    ]


def _places(kind: str, name: str, held: Any, path: tuple[str, ...], owner: tuple[str, str]) -> Iterator[Place]:
    if isinstance(held, BaseModel):
        for field in type(held).model_fields:
            if field not in _LABELS:
                yield from _places(kind, name, getattr(held, field), (*path, field), (type(held).__name__, field))
    elif isinstance(held, Mapping):
        for key, value in held.items():
            yield from _places(kind, name, value, (*path, str(key)), owner)
    elif isinstance(held, tuple):
        for index, value in enumerate(held):
            yield from _places(kind, name, value, (*path, str(index)), owner)
    elif is_number(held) and changed(held, 2.0) != held:
        yield Place(kind, name, path, owner, held)


def is_number(value: object) -> bool:
    """Return whether a value can be changed by a factor."""
    return isinstance(value, (int, float, Range, Span)) and not isinstance(value, bool)


def changed(value: Any, factor: float) -> Any:
    """Return a value times a factor; a whole number stays one, and changes by one at least."""
    if is_dataclass(value) and not isinstance(value, type):
        numbers = {name: getattr(value, name) for name in ("low", "typical", "high") if hasattr(value, name)}
        return replace(value, **{name: number * factor for name, number in numbers.items()})
    if isinstance(value, int):
        scaled = round(value * factor)
        return scaled if scaled != value else max(0, value - 1)
    return value * factor


def with_value(held: Any, path: Sequence[str], value: Any) -> Any:
    """Return a record, table or list in which the value at a path is another one."""
    if not path:
        return value
    first, rest = path[0], path[1:]
    if isinstance(held, BaseModel):
        return held.model_copy(update={first: with_value(getattr(held, first), rest, value)})
    if isinstance(held, Mapping):
        return {key: with_value(one, rest, value) if str(key) == first else one for key, one in held.items()}
    return tuple(with_value(one, rest, value) if str(index) == first else one for index, one in enumerate(held))


def mutated(catalogue: Catalogue, place: Place, factor: float) -> Catalogue:
    """Return the catalogue with one value changed."""
    field = place.kind.replace("-", "_")
    named = dict(getattr(catalogue, field))
    named[place.name] = with_value(named[place.name], place.path, changed(place.value, factor))
    return replace(catalogue, **{field: named})  # type: ignore[arg-type]


# --- what a plan reads --------------------------------------------------------------------------------------------


@contextmanager
def watched() -> Iterator[set[tuple[str, str]]]:
    """Give the set that every field of a record joins that is read meanwhile, as model and field."""
    seen: set[tuple[str, str]] = set()

    def read(self: Record, name: str) -> Any:
        seen.add((type(self).__name__, name))
        return object.__getattribute__(self, name)

    Record.__getattribute__ = read  # type: ignore[method-assign, assignment]
    try:
        yield seen
    finally:
        del Record.__getattribute__


def read_by_plans() -> set[tuple[str, str]]:
    """Return the fields that planning the demo and one piece of many finishes reads, and telling of the plans."""
    from finplan.data.plan import plan_data
    from finplan.demo import write_demo
    from finplan.planning import read_sources
    from tests.plans import make_plan

    with tempfile.TemporaryDirectory() as folder, watched() as seen:
        write_demo(Path(folder), date(2026, 11, 24))
        (Path(folder) / "sampler.yaml").write_text(SAMPLER, encoding="utf-8")
        (Path(folder) / "sampler-shop.yaml").write_text(SAMPLER_SHOP, encoding="utf-8")
        demo = [Path(folder) / f"{name}.yaml" for name in ("round-table", "hall-bench", "book-shelf")]
        for files, shop in ((demo, "shop.yaml"), ([Path(folder) / "sampler.yaml"], "sampler-shop.yaml")):
            sources = read_sources(files, Path(folder) / shop)
            plan_data(make_plan(sources, now=datetime(2026, 11, 24, 8, tzinfo=UTC)))
        return set(seen)


# --- running the tests ----------------------------------------------------------------------------------------------


class FirstFailure:
    """Keeps the name of the first test that fails, or of what could not be collected."""

    def __init__(self) -> None:
        self.test: str | None = None

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and self.test is None:
            self.test = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed and self.test is None:
            self.test = report.nodeid


def value_tests(tests: Path) -> list[str]:
    """Return the files that could notice: those of tests/published that look at the catalogue, and physics."""
    published = sorted((tests / "published").glob("test_*.py"))
    looking = [file for file in published if "catalogue" in file.read_text(encoding="utf-8")]
    return [str(file) for file in (*looking, *(tests / "catalogue" / name for name in PHYSICS))]


def first_failure(catalogue: Catalogue, files: Sequence[str]) -> str | None:
    """Return the first of the tests in some files that fails with a catalogue in place of the bundled one."""
    for module in [name for name in sys.modules if name.startswith("tests.") and name != __name__]:
        del sys.modules[module]
    finplan.catalogue.bundled_catalogue = finplan.catalogue.loader.bundled_catalogue = lambda: catalogue  # type: ignore[assignment]
    first = FirstFailure()
    options = ["-x", "-q", "-n", "0", "-p", "no:cacheprovider", "--no-header", "--rootdir", str(ROOT)]
    pytest.main([*options, *files], plugins=[first])
    return first.test


@contextmanager
def silence() -> Iterator[None]:
    """Let nothing be printed meanwhile, by whatever writes to the terminal itself either."""
    sys.stdout.flush()
    kept = os.dup(1), os.dup(2)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        sys.stdout.flush()
        for number, one in enumerate(kept, 1):
            os.dup2(one, number)
            os.close(one)
        os.close(nowhere)


def noticed_by(catalogue: Catalogue, files: Sequence[str]) -> str | None:
    """Return what ``first_failure`` does, found by a child of this process."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        found = "the tests could not be run"
        try:
            with silence():
                found = first_failure(catalogue, files) or ""
        finally:
            os.write(writing, found.encode()[:4000])
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        told = pipe.read().decode()
    os.waitpid(child, 0)
    return told or None


def tried(catalogue: Catalogue, sample: Sequence[tuple[Place, float]], files: Sequence[str]) -> Iterator[Outcome]:
    """Give what came of each changed value."""
    for place, factor in sample:
        yield Outcome(place, factor, noticed_by(mutated(catalogue, place, factor), files))


def say(line: str) -> None:
    """Print a line at once: a run takes minutes."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main(arguments: Sequence[str] | None = None) -> int:
    """Print what no test notices, and the share that is noticed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--size", type=int, default=60, help="how many values are changed (60)")
    parser.add_argument("--seed", type=int, default=1, help="which (1)")
    parser.add_argument("--all-fields", action="store_true", help="also fields that no plan reads")
    parser.add_argument("--kind", action="append", help="only records of this kind; may be given several times")
    asked = parser.parse_args(arguments)
    files = value_tests(ROOT / "tests")
    catalogue = bundled_catalogue()
    read = None if asked.all_fields else read_by_plans()
    found = [
        place
        for place in places(catalogue)
        if (read is None or place.owner in read) and (not asked.kind or place.kind in asked.kind)
    ]
    every = [(place, factor) for place in found for factor in FACTORS]
    sample = random.Random(asked.seed).sample(every, min(asked.size, len(every)))
    with silence():
        unchanged = first_failure(catalogue, files)  # here, so that every child has what the tests load
    if unchanged:
        say(f"{unchanged} fails on the catalogue as it is")
        return 1
    noticed = 0
    missed: dict[str, list[int]] = {}
    for outcome in tried(catalogue, sample, files):
        noticed += outcome.noticed_by is not None
        group = missed.setdefault(f"{outcome.place.kind}: {outcome.place.owner[0]}.{outcome.place.owner[1]}", [0, 0])
        group[outcome.noticed_by is not None] += 1
        told = f"noticed by {outcome.noticed_by}" if outcome.noticed_by else "NOT NOTICED"
        say(f"{outcome.place} x {outcome.factor:g}: {told}")
    say("\nnot noticed, by field:")
    for field, (lost, seen) in sorted(missed.items(), key=lambda item: -item[1][0]):
        if lost:
            say(f"  {field}: {lost} of {lost + seen}")
    say(f"\n{noticed} of {len(sample)} noticed: {100 * noticed / max(1, len(sample)):.0f} %")
    say(f"({len(every)} changes to choose from, of {len(found)} values)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
