"""The sanding of a piece as plain data."""

from __future__ import annotations

from typing import Any

from finplan.export.ranges import range_data
from finplan.sanding import GroupSanding, SandingPlan, SandingStep

_MINUTES_PER_H = 60.0


def sanding_data(plan: SandingPlan) -> dict[str, Any]:
    """Return how every part is sanded, what it uses up and the dust it makes; times in minutes, dust in g."""
    parts: dict[str, list[GroupSanding]] = {}
    for found in plan.groups:
        parts.setdefault(found.group.part, []).append(found)
    return {
        "format": "finplan-sanding/1",
        "parts": [
            {
                "part": part,
                "groups": [
                    {
                        "faces": list(found.group.faces),
                        "surface": found.group.surface,
                        "area_m2": found.group.area_m2,
                        "steps": [_step(step) for step in found.steps],
                        "stop_reason": found.stop_reason,
                        "note": found.note,
                    }
                    for found in groups
                ],
            }
            for part, groups in parts.items()
        ],
        "abrasives": [
            {
                "product": need.product,
                "grit": need.grit,
                "needed": range_data(need.needed),
                "packs": [{"packs": number, "of": count} for number, count in need.packs],
            }
            for need in plan.abrasives
        ],
        "dust_g": range_data(plan.dust_g),
    }


def _step(step: SandingStep) -> dict[str, Any]:
    return {
        "grit": step.grit,
        "size_um": step.size_um,
        "method": step.method,
        "minutes": range_data(step.hours, _MINUTES_PER_H),
        "use": {"product": step.product, **range_data(step.used)},
    }
