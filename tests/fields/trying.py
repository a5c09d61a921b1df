"""A field that is tried: two values of it, for a small piece in a small shop, and what they have to change.

A value is a merge patch (RFC 7396) on the file: a group is gone into, None takes a field away.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any, Literal

Patch = dict[str, Any]
Stage = Literal[
    "areas", "sanding", "materials", "safety", "timetable", "check", "drawing", "data", "sheet", "tags", "systems",
    "quote",
]  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """Two values of a field, and the stage of which they change something."""

    stage: Stage
    first: Patch
    second: Patch
    piece: Patch = field(default_factory=dict)
    """Of a field of the shop: the piece for which it counts."""


def patched(base: Any, patch: Any) -> Any:
    """Return what a merge patch makes of a value."""
    if not isinstance(patch, dict):
        return deepcopy(patch)
    found = dict(base) if isinstance(base, dict) else {}
    for name, value in patch.items():
        if value is None:
            found.pop(name, None)
        else:
            found[name] = patched(found.get(name), value)
    return found


def inside(path: str, patch: Any) -> Patch:
    """Return a patch of what stands at *path*, with slashes."""
    for step in reversed(path.split("/")):
        patch = {step: patch}
    return dict(patch)


def values(stage: Stage, path: str, first: Any, second: Any) -> Tried:
    """Return two values of the field at *path*; None is a file without it."""
    return Tried(stage, inside(path, first), inside(path, second))


PIECE: Patch = {
    "piece": "Trial", "lengths": "mm", "timber": "ash", "system": "hardwax-oil", "deliver": "2027-03-12",
    "parts": {
        "top": {"shape": "rectangle", "length": 600, "width": 300, "thickness": 20},
        "leg": {"shape": "square-leg", "side": 45, "length": 400, "count": 4},
        "rail": {"shape": "board", "length": 500, "width": 60, "thickness": 20},
    },
}  # fmt: skip
ONE_BOARD: Patch = {"parts": {"leg": None, "rail": None}}
"""What leaves one board of the piece: enough for nearly all that a shop says, and planned in a third of the time."""
WHOLE: Patch = {"parts": PIECE["parts"]}
"""What puts them back."""
SHOP: Patch = {
    "shop": "Trial shop",
    "people": [{"name": "Ines", "hours": {"mon-fri": "8:00-16:00"}}],
    "rooms": {
        "shop": {"for": ["sanding", "assembly", "coating", "spraying", "drying"], "volume": "60 m3", "air-changes": 1}
    },
}
