"""What an edit means for the data of a file: what its text has to say when the edit is made."""

from __future__ import annotations

from typing import Any

from finplan.problems import Where


def with_value(data: Any, path: Where, value: Any) -> Any:
    """Return data with a value at a path; groups that are not there yet are made, the end of a list is added to."""
    if not path:
        return value
    step, *rest = path
    if isinstance(step, int):
        listed = list(data) if isinstance(data, list) else []
        inner = listed[step] if step < len(listed) else None
        return [*listed[:step], with_value(inner, tuple(rest), value), *listed[step + 1 :]]
    group = dict(data) if isinstance(data, dict) else {}
    group[step] = with_value(group.get(step), tuple(rest), value)
    return group


def with_item_at(data: Any, path: Where, at: int, value: Any) -> Any:
    """Return data with an item in the list at a path, before the one that is *at* now; a list is begun by it."""
    listed = data
    for step in path:
        listed = (listed or {}).get(step) if isinstance(step, str) else listed[step]
    items = list(listed) if isinstance(listed, list) else []
    return with_value(data, path, [*items[:at], value, *items[at:]])


def without(data: Any, path: Where) -> Any:
    """Return data without what is at a path."""
    step, *rest = path
    if isinstance(data, list):
        inner = [without(data[int(step)], tuple(rest))] if rest else []
        return [*data[: int(step)], *inner, *data[int(step) + 1 :]]
    return {
        name: without(one, tuple(rest)) if name == step else one for name, one in data.items() if rest or name != step
    }


def renamed(data: dict[str, Any], part: str, to: str) -> dict[str, Any]:
    """Return the data of a piece file with another name of a part, wherever it is spoken of."""
    anew = {**data, "parts": {to if name == part else name: one for name, one in data["parts"].items()}}
    groups = data.get("assemblies")
    if isinstance(groups, dict):
        anew["assemblies"] = {name: _in_assembly(assembly, part, to) for name, assembly in groups.items()}
    joints = data.get("joints")
    if isinstance(joints, list):
        anew["joints"] = [_in_joint(joint, part, to) for joint in joints]
    return anew


def _in_assembly(fields: Any, part: str, to: str) -> Any:
    if not isinstance(fields, dict) or not isinstance(fields.get("parts"), list):
        return fields
    return {**fields, "parts": [to if str(field) == part else field for field in fields["parts"]]}


def _in_joint(fields: Any, part: str, to: str) -> Any:
    if not isinstance(fields, dict):
        return fields
    return {name: to if name in ("from", "to") and str(one) == part else one for name, one in fields.items()}
