"""The systems side by side as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from finplan.export.ranges import range_data
from finplan.planning import Candidate


def systems_data(piece: str, candidates: Iterable[Candidate]) -> dict[str, Any]:
    """Return every system tried on a piece; times in h, volumes in ml, vapour in g, ratings 1 to 5."""
    return {
        "format": "finplan-systems/1",
        "piece": piece,
        "systems": [
            {
                "system": one.system,
                "title": one.title,
                "sheen": one.sheen,
                "use": one.use,
                "verdict": one.verdict,
                "why": one.why,
                "coats": one.coats,
                "ready": None if one.ready is None else one.ready.isoformat(timespec="minutes"),
                "days": one.days,
                "work_h": None if one.work_h is None else range_data(one.work_h),
                "volume_ml": None if one.volume_ml is None else range_data(one.volume_ml),
                "voc_g": one.voc_g,
                "cost": one.cost,
                "ratings": one.ratings.model_dump(),
                "cautions": [line.code for line in one.cautions],
                "risks": list(one.risks),
            }
            for one in candidates
        ],
    }
