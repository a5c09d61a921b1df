"""Pieces to plan, made without files: one face group, or several items."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from finplan.catalogue import Catalogue, Step, bundled_catalogue
from finplan.inputs.shelf import ShelfItem
from finplan.material import AbrasiveUse, Absorption, MaterialJob, MaterialPlan, material_plan
from finplan.quantity import Units
from finplan.reading import validate
from finplan.system import CoatStep, FaceGroup, Treatment, step_id

CATALOGUE = bundled_catalogue()
DAY = date(2027, 3, 1)
GROUP = FaceGroup(
    part="top",
    shape="rectangle",
    count=1,
    timber="beech",
    faces=("top",),
    kind="flat",
    exposure="show",
    area_m2=2.0,
    end_grain_m2=0.0,
    surface="planed",
    coats=None,
)


def typical_m2(drinks: Absorption) -> float:
    """The area that a group of faces typically drinks like."""
    return (drinks.along_m2 * drinks.pores.typical + drinks.end_m2 * drinks.ends.typical) * drinks.grade.typical


def treatment(
    system: str, item: str = "top", area_m2: float = 2.0, method: str | None = None, coats: int | None = None
) -> Treatment:
    """One item with one face group and all the coats of a system, each by its first method, or by *method*."""
    group = replace(GROUP, part=item, area_m2=area_m2)
    steps: list[CoatStep] = []
    number = 0
    for index, recipe in enumerate(CATALOGUE.systems[system].steps):
        if recipe.do != "coat" or recipe.finish is None:
            continue
        number += 1
        if coats is not None and number > coats:
            break
        way = method if method in CATALOGUE.finishes[recipe.finish].methods else recipe.methods[0]
        at = str(index + 1)
        steps.append(replace(step(recipe, number, way or "", group, step_id(item, system, at)), name=at))
    return Treatment(item, (item,), system, (group,), tuple(steps))


def step(recipe: Step, number: int, method: str, group: FaceGroup, id_: str) -> CoatStep:
    """One coat."""
    return CoatStep(id_, "coat", f"coat {number}", recipe, number, recipe.finish or "", method, number == 1, (group,))


def job(
    *treatments: Treatment,
    piece: str = "table",
    grit: str | None = None,
    abrasives: tuple[AbrasiveUse, ...] = (),
    day: date = DAY,
) -> MaterialJob:
    """A piece of these treatments."""
    groups = [group for one in treatments for group in one.groups]
    grits = dict.fromkeys(groups, grit) if grit else {}
    return MaterialJob(piece, treatments, grits, abrasives, day)


def order(
    *jobs: MaterialJob,
    shelf: tuple[ShelfItem, ...] = (),
    sure: float = 0.9,
    catalogue: Catalogue = CATALOGUE,
    units: Units = "metric",
) -> MaterialPlan:
    """What these pieces need together."""
    return material_plan(jobs, catalogue, shelf, units=units, confidence=sure)


def on_shelf(**fields: object) -> ShelfItem:
    """One thing on the shelf, as a shop file says it."""
    item, findings = validate(ShelfItem, fields)
    assert item is not None, findings
    return item
