"""What an edit does to a text: the characters of one value taken out, others put in their place.

Whatever makes a text raises ``EditError`` where that text cannot be made; nothing else of a text is ever changed.
"""

from __future__ import annotations

from pathlib import Path

from finplan.page.places import TextPlace
from finplan.page.written import scalar_text
from finplan.problems import FinplanError, Where, show_path, shown
from finplan.reading import document_of, wrong_with_name


class EditError(FinplanError):
    """An edit that cannot be made on this text; says why."""


def in_flow(tree: TextPlace, path: Where) -> bool:
    """Return whether what stands at a path stands within brackets."""
    here: TextPlace | None = tree
    for length in range(len(path)):
        here = tree.at(path[:length])
        if here is None or here.flow:
            return True  # what is not there yet is put in with brackets
    return False


def with_scalar(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    """Return the text with a scalar at a path, in the place of what is there or put in."""
    there = tree.at(path)
    if there is None:
        return _inserted(text, tree, path, written, newline)
    if there.kind != "scalar":
        msg = f"{show_path(path)} is a {there.kind} of values; write it in the file itself"
        raise EditError(msg)
    if there.start == there.end:  # nothing stands behind the name
        return (
            text[: there.start]
            + (" " if text[there.start - 1 : there.start] == ":" else "")
            + written
            + text[there.end :]
        )
    tail = newline if there.style in ("|", ">") and text[there.start : there.end].endswith("\n") else ""
    return text[: there.start] + written + tail + text[there.end :]


def with_any(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    """Return the text with a value of any kind, in one line, at a path: of what is there all characters go."""
    there = tree.at(path)
    if there is None or there.kind == "scalar":
        return with_scalar(text, tree, path, written, newline)
    return text[: there.start] + written + text[there.end :]


def _inserted(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    """Return the text with a value at a path where there is none."""
    parent, name = tree.at(path[:-1]), path[-1]
    if isinstance(name, int):
        msg = f"{show_path(path)} is not in the file"
        raise EditError(msg)
    entry = f"{scalar_text(name, flow=True)}: {written}"
    if parent is None:
        return _inserted(text, tree, path[:-1], f"{{{entry}}}", newline)
    if parent.kind == "scalar" and parent.start == parent.end:
        return with_scalar(text, tree, path[:-1], f"{{{entry}}}", newline)
    if parent.kind != "group":
        msg = f"{show_path(path[:-1])} is written as one value; write it as a group in the file itself"
        raise EditError(msg)
    if parent.flow:
        if not parent.fields:
            return text[: parent.end - 1] + entry + text[parent.end - 1 :]
        last = max(max(parent.keys[key][1], place.end) for key, place in parent.fields.items())
        return f"{text[:last]}, {entry}{text[last:]}"
    return _new_line(text, parent.end, f"{' ' * parent.column}{entry}", newline)


def _new_line(text: str, behind: int, line: str, newline: str) -> str:
    """Return the text with a line after the one in which something ends.

    A comment behind that stays with it, and so do comments below it that are set in further than the new line.
    """
    column = len(line) - len(line.lstrip())
    if text[behind - 1 : behind] == "\n":
        at = behind
    else:
        end = text.find("\n", behind)
        if end < 0:
            return f"{text}{newline}{line}{newline}"
        at = end + 1
    while (end := text.find("\n", at)) >= 0:
        below = text[at:end]
        if not below.lstrip().startswith("#") or len(below) - len(below.lstrip()) <= column:
            break
        at = end + 1
    return f"{text[:at]}{line}{newline}{text[at:]}"


def with_item(text: str, tree: TextPlace, path: Where, written: str, newline: str, at: int) -> str:
    """Return the text with an item in a list, before the one that is *at* now, or at its end."""
    there = tree.at(path)
    if there is None:
        return _inserted(text, tree, path, f"[{written}]", newline)
    if there.kind == "scalar" and there.start == there.end:
        return with_scalar(text, tree, path, f"[{written}]", newline)
    if there.kind != "list":
        msg = f"{show_path(path)} is no list; write it in the file itself"
        raise EditError(msg)
    if there.flow:
        if not there.items:
            return text[: there.end - 1] + written + text[there.end - 1 :]
        if at < len(there.items):
            start = there.items[at].start
            return f"{text[:start]}{written}, {text[start:]}"
        last = there.items[-1].end
        return f"{text[:last]}, {written}{text[last:]}"
    one_field = there.items[0].kind == "group" and not there.items[0].flow and len(there.items[0].fields) == 1
    own_line = written[1:-1] if one_field and written.startswith("{") else written
    line = f"{' ' * there.column}- {own_line}"
    if at < len(there.items):
        start = text.rfind("\n", 0, there.items[at].start) + 1
        if text[start : there.items[at].start].strip() == "-":
            return f"{text[:start]}{line}{newline}{text[start:]}"
    return _new_line(text, there.end, line, newline)


def goes(tree: TextPlace, path: Where) -> Where:
    """Return what is taken out in the end: with what is in it alone, the group or list around it."""
    if tree.at(path) is None:
        msg = f"{show_path(path)} is not in the file"
        raise EditError(msg)
    while len(path) > 1:
        around = tree.at(path[:-1])
        if around is None or len(around.fields) + len(around.items) > 1:
            break
        path = path[:-1]
    if path == ("parts",):
        msg = "this is the only part, and a piece has at least one"
        raise EditError(msg)
    return path


def without_value(text: str, tree: TextPlace, path: Where) -> str:
    """Return the text without what is at a path, as ``goes`` gave it."""
    around, there, name = tree.at(path[:-1]), tree.at(path), path[-1]
    if around is None or there is None:  # pragma: no cover - asked before
        raise EditError(show_path(path))
    starts = [place[0] for place in around.keys.values()] or [place.start for place in around.items]
    start = around.keys[name][0] if isinstance(name, str) else there.start
    end = max(there.end, around.keys[name][1] + 1 if isinstance(name, str) else 0)
    at = starts.index(start)
    if around.flow:
        if at + 1 < len(starts):
            return text[:start] + text[starts[at + 1] :]
        before = around.items[at - 1].end if around.items else list(around.fields.values())[at - 1].end
        return text[: before if at else start] + text[end:]
    line = text.rfind("\n", 0, start) + 1
    if isinstance(name, int):
        dash = text.rfind("-", line, start)
        start = dash if dash >= 0 else start
    if text[line:start].strip():  # behind the dash of a list
        if at + 1 < len(starts) and isinstance(name, str):
            return text[:start] + text[starts[at + 1] :]
        msg = f"{show_path(path)} stands in one line with others; take it out in the file itself"
        raise EditError(msg)
    if text[end - 1 : end] != "\n":
        line_end = text.find("\n", end)
        end = len(text) if line_end < 0 else line_end + 1
    return text[:line] + text[end:]


def with_part_renamed(text: str, tree: TextPlace, part: str, to: str) -> str:
    """Return the text with another name of a part, wherever it is spoken of."""
    _named(tree, to)
    parts = tree.at(("parts",))
    if parts is None or part not in parts.fields:
        msg = f"there is no part {shown(part)}"
        raise EditError(msg)
    spans = [(*parts.keys[part], parts.flow)]
    groups = tree.at(("assemblies",))
    for name in groups.fields if groups is not None else ():
        listed = tree.at(("assemblies", name, "parts"))
        spans += [
            (place.start, place.end, True) for place in (listed.items if listed else ()) if _says(text, place, part)
        ]
    joints = tree.at(("joints",))
    for joint in joints.items if joints is not None else ():
        ends = [joint.fields[end] for end in ("from", "to") if end in joint.fields]
        spans += [(place.start, place.end, True) for place in ends if _says(text, place, part)]
    for start, end, flow in sorted(spans, reverse=True):
        text = text[:start] + scalar_text(to, flow=flow, name=True) + text[end:]
    return text


def _says(text: str, place: TextPlace, name: str) -> bool:
    if place.kind != "scalar":
        return False
    data = document_of(f"value: {text[place.start : place.end]}\n", Path("piece.yaml")).data
    return str(data["value"]) == name


def _named(tree: TextPlace, name: str) -> None:
    """Refuse what is no name for a new part."""
    wrong = wrong_with_name(name)
    if wrong is not None:
        msg = "; ".join(wrong)
        raise EditError(msg)
    for group, kind in (("parts", "part"), ("assemblies", "assembly")):
        named = tree.at((group,))
        if named is not None and name in named.fields:
            msg = f"there is a{'n' if kind == 'assembly' else ''} {kind} {shown(name)} already; expected another name"
            raise EditError(msg)


def with_part(text: str, tree: TextPlace, part: str, fields: dict[str, str], newline: str) -> str:
    """Return the text with a new part, with its fields as they are written."""
    _named(tree, part)
    parts = tree.at(("parts",))
    name = scalar_text(part, flow=parts is not None and parts.flow, name=True)
    whole = "{" + ", ".join(f"{field}: {value}" for field, value in fields.items()) + "}"
    if parts is None:
        indent, head = 2, f"parts:{newline}"
        behind = tree.end
    elif parts.kind != "group" or parts.flow:
        return _inserted(text, tree, ("parts", part), whole, newline)
    else:
        indent, head, behind = parts.column, "", parts.end
    lines = [f"{' ' * indent}{name}:", *(f"{' ' * (2 * indent)}{field}: {value}" for field, value in fields.items())]
    return _new_line(text, behind, head + newline.join(lines), newline)
