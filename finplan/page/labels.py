"""What a maker calls a place in a piece file: ``elements[2].bead.diameter`` is the diameter of the bead, element 3."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.problems import Where

_ONE_OF = {
    "elements": "element",
    "grooves": "groove",
    "points": "point",
    "profile": "point",
    "widths": "width",
    "upper": "upper offset",
    "lower": "lower offset",
    "less": "patch",
    "joints": "joint",
    "accept": "warning",
    "parts": "part",
}
"""What one of a list is called, by the name of the list."""
_OF_PAIR = {
    "curve": ("distance", "diameter"),
    "points": ("along", "across"),
    "profile": ("along", "out"),
}
"""What the two numbers of a point are: of the curve of a turned part, of an outline, of a moulding."""
_WHERE = {("edge", "top"): "edge, above", ("edge", "bottom"): "edge, below"}


def called_one(name: str) -> str:
    """Return what one of a list is called.

    >>> called_one("grooves"), called_one("less"), called_one("shelves")
    ('groove', 'patch', 'shelves')
    """
    return _ONE_OF.get(name, name)


def field_words(path: Where) -> str:
    """Return what a field of a part is called; its path starts at the part.

    >>> field_words(("elements", 2, "bead", "diameter")), field_words(("points", 2, "corner", 1))
    ('element 3, bead, diameter', 'point 3, corner, across')
    >>> field_words(("elements", 3, "curve", "points", 0, 0)), field_words(("faces", "underside", "less", 0))
    ('element 4, curve, point 1, distance', 'underside, patch 1')
    >>> field_words(("profile", 2, "arc", 0)), field_words(("profile", 2, "rise")), field_words(("edge", "top"))
    ('point 3, end of the arc, along', 'point 3, rise', 'edge, above')
    """
    if path in _WHERE:
        return _WHERE[path]
    words: list[str] = []
    for at, step in enumerate(path):
        before = path[:at]
        if isinstance(step, int):
            pair = _pair(before)
            if pair is not None and step < len(pair):
                words.append(pair[step])
            else:
                words.append(f"{called_one(str(before[-1])) if before else ''} {step + 1}".strip())
        elif _is_list_name(path, at) or (step == "faces" and at + 1 < len(path)):
            continue
        else:
            words.append("end of the arc" if step == "arc" else step)
    return ", ".join(words)


def _is_list_name(path: Where, at: int) -> bool:
    """Return whether what stands at a step of a path is a list, which its items name."""
    return at + 1 < len(path) and isinstance(path[at + 1], int) and _pair(path[: at + 1]) is None


def _pair(before: Sequence[str | int]) -> tuple[str, str] | None:
    """Return what the numbers of a pair are, where its items come next; None where they are no pair."""
    if len(before) >= 2 and before[-1] == "corner":
        return _OF_PAIR["points"]
    if len(before) >= 2 and before[-1] == "arc":
        return _OF_PAIR["profile"]
    if len(before) < 2 or not isinstance(before[-1], int):
        return None
    if before[-2] == "profile":
        return _OF_PAIR["profile"]
    if before[-2] == "points":
        return _OF_PAIR["curve" if "curve" in before else "points"]
    return None
