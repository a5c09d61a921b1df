"""The page of what to do if a coat goes wrong: the faults of the job's finishes, one page at most."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.planning import Plan, read_sources
from finplan.sheet.faults_page import faults_page
from finplan.telling import job_faults
from tests.plans import plan_of

NOW = datetime(2027, 3, 1, 8, tzinfo=UTC)
PARTS = "  {name}: {{shape: disc, diameter: 300 mm, thickness: 20 mm, system: {system}}}\n"


def plan_in(folder: Path, *systems: str) -> Plan:
    parts = "".join(PARTS.format(name=f"p{index}", system=system) for index, system in enumerate(systems))
    file, shop = folder / "discs.yaml", folder / "shop.yaml"
    file.write_text(f"piece: Discs\ntimber: cherry\nparts:\n{parts}", encoding="utf-8")
    shop.write_text("shop: Teal Row\nmethods: [wipe, pad, brush, spatula]\n", encoding="utf-8")
    return plan_of(read_sources([file], shop), now=NOW)


def test_what_can_occur_in_its_finishes_is_told_and_nothing_else(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, "hardwax-oil")
    titles = {one.title for one in job_faults(plan)}
    faults, finish = plan.catalogue.faults, plan.catalogue.finishes["hardwax-oil"]
    assert titles == {one.title for one in faults.values() if one.answer("hardwax-oil", finish) is not None}
    assert all(one.done[0].finishes == "" for one in job_faults(plan)), "one finish needs no name"


def test_finishes_that_are_mended_otherwise_are_named(tmp_path: Path) -> None:
    plan = plan_in(tmp_path, "oil-varnish", "shellac")
    runs = next(one for one in job_faults(plan) if one.title == "Runs and sags")
    assert [one.finishes for one in runs.done] == ["oil-based varnish", "shellac, 2 lb cut, dewaxed"]


@pytest.mark.parametrize(
    "systems",
    [("hardwax-oil",), ("oil-varnish",), ("stain-and-varnish", "dye-and-waterborne", "shellac", "casein-paint")],
)
def test_it_is_one_page_and_what_does_not_fit_is_named(tmp_path: Path, systems: tuple[str, ...]) -> None:
    """A page has room for some 10,000 letters of its size of type: what is more is named, none is lost."""
    plan = plan_in(tmp_path, *systems)
    page = faults_page(plan)
    letters = sum(len(one.looks) + sum(len(done.words) for done in one.done) for one in page.faults)
    assert 2000 < letters < 10_000
    every = job_faults(plan)
    assert page.faults == every[: len(page.faults)]
    assert all(one.title.lower() in page.others for one in every[len(page.faults) :])
