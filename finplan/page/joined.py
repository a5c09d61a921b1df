"""What is said of several parts at once as a page shows it: assemblies, which are coated as one, and glued joints."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from finplan.page.asked_fields import AskedSteps
from finplan.page.field import Choice, Field, value_at, within
from finplan.page.fields import Fields
from finplan.page.reckoned import Reckoned
from finplan.problems import Problem, Where, show_path

_JOINT = (("from", "part"), ("face", "face"), ("to", "glued to"), ("on", "face of that"))


@dataclass(frozen=True, slots=True)
class AssemblyFields:
    """Parts that are joined before they are coated."""

    name: str
    path: str
    parts: tuple[tuple[str, str], ...]
    """Each by its name, with the path of it in the list."""
    others: tuple[str, ...]
    """Parts that can be added."""
    list_path: str
    system: Field
    asked: tuple[AskedSteps, ...]
    """Steps beside the coats that it gets in the place of the piece's."""
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class JointFields:
    """Faces that are glued to another part."""

    words: str
    path: str
    fields: tuple[Field, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class JoinedFields:
    """All of it."""

    assemblies: tuple[AssemblyFields, ...]
    joints: tuple[JointFields, ...]
    free: tuple[str, ...]
    """Parts that are in no assembly."""
    faces: tuple[Choice, ...]
    """Every face of every part: what can be glued."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that are shown with them."""
        fields = [field for joint in self.joints for field in joint.fields] + [
            assembly.system for assembly in self.assemblies
        ]
        own = [*(assembly.problems for assembly in self.assemblies), *(joint.problems for joint in self.joints)]
        own += [asked.all_problems for assembly in self.assemblies for asked in assembly.asked]
        return tuple(problem for listed in (*own, *(field.problems for field in fields)) for problem in listed)


def joined_fields(reckoned: Reckoned, fields: Fields) -> JoinedFields:
    """Return what a text says of several parts at once."""
    listed = reckoned.data.get("parts")
    parts = [str(name) for name in listed] if isinstance(listed, dict) else []
    groups = reckoned.data.get("assemblies")
    assemblies = {str(name): written for name, written in groups.items()} if isinstance(groups, dict) else {}
    taken = {part for assembly in assemblies.values() for part in _parts_of(assembly)}
    free = tuple(part for part in parts if part not in taken)
    return JoinedFields(
        tuple(_assembly(name, written, free, reckoned, fields) for name, written in assemblies.items()),
        tuple(_joints(reckoned, fields, parts)),
        free,
        tuple(Choice(json.dumps([part, face]), f"{part}: {face}") for part in parts for face in _faces(reckoned, part)),
    )


def _parts_of(assembly: Any) -> list[str]:
    parts = assembly.get("parts") if isinstance(assembly, dict) else None
    return [str(part) for part in parts] if isinstance(parts, list) else []


def _assembly(name: str, written: Any, free: tuple[str, ...], reckoned: Reckoned, fields: Fields) -> AssemblyFields:
    path: Where = ("assemblies", name)
    inside = (*path, "parts")
    asked = fields.asked(path, name)
    shown = {show_path((*path, "system"))} | {problem.where for each in asked for problem in each.all_problems}
    return AssemblyFields(
        name,
        json.dumps(path),
        tuple((part, json.dumps((*inside, at))) for at, part in enumerate(_parts_of(written))),
        free,
        json.dumps(inside),
        fields.of((*path, "system"), f"{name}, finish of its own"),
        asked,
        _problems(reckoned, path, shown),
    )


def _joints(reckoned: Reckoned, fields: Fields, parts: list[str]) -> Iterator[JointFields]:
    joints = reckoned.data.get("joints")
    for at, joint in enumerate(joints if isinstance(joints, list) else ()):
        path: Where = ("joints", at)
        words = f"joint {at + 1}"
        shown = []
        for name, label in _JOINT:
            of_part = str(value_at(joint, ("from" if name == "face" else "to",)))
            known = parts if name in ("from", "to") else _faces(reckoned, of_part)
            shown.append(fields.chosen((*path, name), f"{words}, {label}", known))
        at_fields = {show_path(field.path) for field in shown}
        yield JointFields(words, json.dumps(path), tuple(shown), _problems(reckoned, path, at_fields))


def _problems(reckoned: Reckoned, path: Where, at_fields: set[str]) -> tuple[Problem, ...]:
    return tuple(problem for problem in within(path, reckoned.problems) if problem.where not in at_fields)


def _faces(reckoned: Reckoned, part: str) -> tuple[str, ...]:
    if reckoned.piece is None or part not in reckoned.piece.parts:
        return ()
    return reckoned.piece.parts[part].face_names()
