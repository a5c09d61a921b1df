"""The sanding of a piece as plain data."""

from __future__ import annotations

from typing import Any

from finplan.catalogue import is_cami
from finplan.export.ranges import range_data
from finplan.safety import DustReport
from finplan.sanding import GroupSanding, LaterWork, OrderStep, SandingPlan, SandingStep

_MINUTES_PER_H = 60.0


def sanding_data(plan: SandingPlan, dust: DustReport) -> dict[str, Any]:
    """Return how every part is sanded, in which order, what it uses up and the dust it makes.

    Times are in minutes, grain sizes in µm, areas in m², dust in g, depths in mm.
    """
    parts: dict[str, list[GroupSanding]] = {}
    for found in plan.groups:
        parts.setdefault(found.group.part, []).append(found)
    return {
        "format": "finplan-sanding/1",
        "parts": [
            {
                "part": part,
                "handling_minutes": range_data(plan.handling_of(part), _MINUTES_PER_H),
                "groups": [_group(found) for found in groups],
            }
            for part, groups in parts.items()
        ],
        "later": [_later(work) for work in plan.later],
        "order": [_order(step) for step in plan.order],
        "abrasives": [
            {
                "product": need.product,
                "grit": need.grit,
                **_scales(need.grit, need.other_scale),
                "needed": range_data(need.needed),
                "packs": [{"packs": number, "of": count} for number, count in need.packs],
            }
            for need in plan.abrasives
        ],
        "buy_grits": list(plan.buy),
        "dust_g": range_data(plan.dust_g),
        "extraction": {
            "extractor": dust.extractor,
            "passes_pct": dust.passes_pct,
            "room": dust.room,
            "volume_m3": dust.volume_m3,
            "limits": [
                {"where": one.jurisdiction, "limit_mg_m3": one.limit_mg_m3, "in_the_air_g": one.in_the_air_g}
                for one in dust.limits
            ],
        },
    }


def _scales(grit: str, other: str) -> dict[str, str]:
    """Return the grade on both scales."""
    return {"p_grade": other, "cami": grit} if is_cami(grit) else {"p_grade": grit, "cami": other}


def _group(found: GroupSanding) -> dict[str, Any]:
    veneer = found.veneer
    return {
        "faces": list(found.group.faces),
        "surface": found.group.surface,
        "exposure": found.group.exposure,
        "area_m2": found.group.area_m2,
        "steps": [_step(step) for step in found.steps],
        "stop_reason": found.stop_reason,
        "cap": found.cap,
        "beyond_cap": [{"from": fall.coarse, "to": fall.fine, "ratio": fall.ratio} for fall in found.beyond_cap],
        "buy": list(found.buy),
        "mended": list(found.mended),
        "veneer": None
        if veneer is None
        else {
            "thickness_mm": veneer.thickness_mm,
            "budget_mm": veneer.budget_mm,
            "depth_mm": range_data(veneer.depth_mm),
        },
        "note": found.note,
    }


def _step(step: SandingStep) -> dict[str, Any]:
    return {
        "grit": step.grit,
        **_scales(step.grit, step.other_scale),
        "size_um": step.size_um,
        "method": step.method,
        "minutes": range_data(step.hours, _MINUTES_PER_H),
        "use": {"product": step.product, **range_data(step.used)},
        "dust_g": range_data(step.dust_g),
    }


def _later(work: LaterWork) -> dict[str, Any]:
    first = work.steps[0] if work.steps else None
    return {
        "id": work.id,
        "item": work.item,
        "do": work.do,
        "label": work.label,
        "grit": first.grit if first else None,
        "size_um": first.size_um if first else None,
        "method": first.method if first else None,
        "minutes": range_data(work.hours, _MINUTES_PER_H),
        "note": work.note,
    }


def _order(step: OrderStep) -> dict[str, Any]:
    return {
        "id": step.id,
        "item": step.item,
        "stage": step.stage,
        "do": step.do,
        "label": step.label,
        "faces": list(step.faces),
        "joints": step.joints,
        "minutes": range_data(step.hours, _MINUTES_PER_H),
        "reason": step.reason,
    }
