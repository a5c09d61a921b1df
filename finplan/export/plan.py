"""A whole plan as plain data: what it was made from, and all that came of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from finplan.export.areas import areas_data
from finplan.export.materials import materials_data
from finplan.export.safety import safety_data
from finplan.export.sanding import sanding_data
from finplan.export.timetable import timetable_data
from finplan.planning import Plan, PlannedPiece, used_sources
from finplan.problems import Problem
from finplan.system import Treatment, TreatmentStep
from finplan.telling import chance_words, latest_start_words
from finplan.timetable import Timetable


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return everything that a plan holds; every key is described in ``guide/plan.schema.json``.

    The parts are those that the single commands print, so that what reads one of them reads it here too.
    """
    return {
        "format": "finplan-plan/1",
        "version": plan.version,
        "digest": plan.digest,
        "units": plan.units,
        "shop": {
            "shop": plan.shop.shop if plan.shop_file.document else None,
            "time_zone": plan.shop.time_zone.key,
            "assumed": list(plan.shop_file.defaults),
        },
        "ready_for": plan.ready_for,
        "pieces": [_piece(piece, plan) for piece in plan.pieces],
        "materials": materials_data(plan.materials),
        "timetable": timetable_data(plan.timetable),
        "chance": _chance(plan.timetable),
        "done": {step: moment.isoformat(timespec="minutes") for step, moment in plan.done.items()},
        "safety": safety_data(plan.safety, plan.precautions),
        "warnings": [_warning(one) for one in plan.findings],
        "sources": {
            key: {"title": source.title, "section": source.section or None, "rests": source.rests}
            for key in _sources(plan)
            for source in (plan.catalogue.sources[key],)
        },
    }


def _sources(plan: Plan) -> Iterable[str]:
    """Return the keys of all that the plan rests on, and those that cautions name while their values are a timber's."""
    return dict.fromkeys((*used_sources(plan), *(line.source for line in plan.cautions)))


def _piece(piece: PlannedPiece, plan: Plan) -> dict[str, Any]:
    deliver = piece.source.piece.deliver
    return {
        "piece": piece.name,
        "key": piece.key,
        "customer": piece.source.piece.customer,
        "deliver": None if deliver is None else str(deliver),
        "warnings": [_warning(one) for one in piece.source.warnings],
        "areas": areas_data(piece.surface),
        "treatments": [_treatment(treatment) for treatment in piece.treatments],
        "sanding": sanding_data(piece.sanding, plan.safety.dust),
    }


def _chance(timetable: Timetable) -> dict[str, Any]:
    sure = timetable.surely_ready
    return {
        "in_time_probability": timetable.in_time_probability,
        "in_time_wanted": timetable.in_time_wanted,
        "surely_ready": None if sure is None else sure.isoformat(timespec="minutes"),
        "words": [*chance_words(timetable), *filter(None, [latest_start_words(timetable)])],
    }


def _warning(one: Problem) -> dict[str, str]:
    return {"where": one.where, "wrong": one.wrong, "expected": one.expected}


def _treatment(treatment: Treatment) -> dict[str, Any]:
    return {
        "item": treatment.item,
        "parts": list(treatment.parts),
        "system": treatment.system,
        "area_m2": treatment.area_m2,
        "steps": [_step(step) for step in treatment.steps],
    }


def _step(step: TreatmentStep) -> dict[str, Any]:
    return {
        "id": step.id,
        "do": step.do,
        "label": step.label,
        "coat": step.coat,
        "finish": step.finish,
        "method": step.method,
        "grit": step.recipe.grit,
        "area_m2": step.area_m2,
        "faces": [{"part": group.part, "faces": list(group.faces)} for group in step.groups],
    }
