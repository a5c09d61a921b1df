"""Reading a piece file: what of it is sound, and everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from finplan.catalogue import Catalogue, ExtraStep, grade_sizes
from finplan.inputs.asked_steps import wrong_with_asked
from finplan.inputs.concerns import CONCERNS, concerns_of, unknown_concerns
from finplan.inputs.mistaken import refuse_shop
from finplan.inputs.piece import Assembly, Head, Joint, Piece, item_in_set
from finplan.inputs.shapes import SHAPES, OutlinePanel, Part
from finplan.problems import Finding, Problem, did_you_mean, hint, shown, titled_so
from finplan.quantity import known_length_unit
from finplan.reading import (
    Document,
    validate,
    wrong_with_name,
)

MAX_PARTS = 300
MAX_SEGMENTS = 3000
"""Of all outlines of a piece: each takes work that grows with them."""
MAX_JOINTS = 3000
MAX_ITEMS = 200
"""Of all pieces of a set: each is planned by itself."""
_OWN_FIELDS = ("parts", "assemblies", "joints")


@dataclass(frozen=True, slots=True)
class PieceFile:
    """What was read: the piece of all parts that are sound, the document for line numbers, and every problem."""

    piece: Piece
    document: Document
    problems: tuple[Problem, ...]

    @property
    def sound(self) -> bool:
        """Whether no problem is an error."""
        return not any(problem.severity == "error" for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Known:
    """The names that a piece file may use."""

    timbers: Collection[str]
    systems: Collection[str]
    surfaces: Collection[str]
    grades: Collection[str] | None = None
    """Of abrasives, of both scales; None where any will do."""
    concerns: Collection[str] = tuple(CONCERNS)
    """The names of all warnings."""
    extra_steps: Mapping[str, ExtraStep] = field(default_factory=dict)
    """The steps beside the coats, by name."""

    @classmethod
    def of(cls, catalogue: Catalogue) -> Known:
        """Return the names of a catalogue."""
        return cls(
            catalogue.timbers,
            catalogue.systems,
            catalogue.surfaces,
            grade_sizes(catalogue),
            tuple(concerns_of(catalogue)),
            catalogue.extra_steps,
        )


def piece_file_of(document: Document, known: Known, *, folder: Path | None) -> PieceFile:
    """Return what a document says, with every problem of its text; geometry is not looked at.

    A mesh is looked for in *folder*, and without one is refused.

    Raises
    ------
    RefusedError
        It says nothing of a piece, but of a shop.
    """
    refuse_shop(document)
    piece, findings = piece_from(document.data, known, folder=folder)
    return PieceFile(piece, document, tuple(sorted(document.problem(finding) for finding in findings)))


def piece_from(data: Mapping[str, Any], known: Known, *, folder: Path | None = None) -> tuple[Piece, list[Finding]]:
    """Return the piece made of all that is sound in *data*, and every finding; *folder* is where its meshes lie."""
    findings: list[Finding] = []
    head, of_head = validate(Head, {name: value for name, value in data.items() if name not in _OWN_FIELDS})
    findings += [_own_fields_too(finding) for finding in of_head]
    lengths = data.get("lengths") if known_length_unit(data.get("lengths")) else None
    parts, of_parts = _parts(data, {"lengths": lengths, "folder": folder, "grades": known.grades})
    findings += of_parts
    assemblies, of_assemblies = _assemblies(data, set(data["parts"]) if isinstance(data.get("parts"), dict) else set())
    findings += of_assemblies
    joints, of_joints = _joints(data, parts)
    findings += of_joints
    piece = Piece(
        name=head.piece if head else "",
        customer=head.customer if head else None,
        units=head.units if head else None,
        timber=head.timber if head else None,
        system=head.system if head else None,
        deliver=head.deliver if head else None,
        parts=parts,
        assemblies=assemblies,
        joints=joints,
        built=head.refinish.built if head and head.refinish else None,
        lead_test=head.refinish.lead_test if head and head.refinish else None,
        strip=head.refinish.strip if head and head.refinish else None,
        keep=bool(head and head.refinish and head.refinish.keep),
        before=head.before if head else (),
        sample=head.sample if head else None,
        after=head.after if head else (),
        alike=head.set_ if head else 1,
        prices=head.prices if head else {},
        accepted=head.accept if head else (),
    )
    findings += _unknown_names(data, known)
    findings += _wrong_with_set(piece)
    findings += wrong_with_asked(piece, known.extra_steps)
    findings += unknown_concerns(piece.accepted, known.concerns)
    return piece, findings


def _wrong_with_set(piece: Piece) -> Iterator[Finding]:
    """Give what is wrong with a set: too many items of it, or an item that is named as one of another would be."""
    items = piece.items()
    if piece.alike == 1:
        return
    if piece.alike * len(items) > MAX_ITEMS:
        wrong = f"a set of {piece.alike} with {len(items)} items each has {piece.alike * len(items)} of them"
        yield Finding(("set",), wrong, f"expected at most {MAX_ITEMS}; write two files, or join parts in assemblies")
        return
    numbered = {
        item_in_set(item, number, piece.count_of(item)): item for item in items for number in range(1, piece.alike + 1)
    }
    for item in items:
        if item in numbered:
            wrong = f"'{item}' is also what one of the set's '{numbered[item]}' is called"
            group = "assemblies" if item in piece.assemblies else "parts"
            yield Finding((group, item), wrong, "give it another name", at_key=True)


def _own_fields_too(finding: Finding) -> Finding:
    """Let the hint for a misspelt field at the top also name those that are read apart."""
    if finding.kind == "unknown" and len(finding.path) == 1:
        names = [*(info.alias or name for name, info in Head.model_fields.items()), *_OWN_FIELDS]
        return replace(finding, expected=did_you_mean(str(finding.path[0]), names))
    return finding


def _parts(data: Mapping[str, Any], context: Mapping[str, Any]) -> tuple[dict[str, Part], list[Finding]]:
    listed = data.get("parts")
    if not isinstance(listed, dict) or not listed:
        wrong = "there are no parts" if "parts" not in data or not listed else "'parts' is not a group of named parts"
        return {}, [Finding(("parts",), wrong, "expected names of parts, each with its shape")]
    if len(listed) > MAX_PARTS:
        return {}, [
            Finding(("parts",), f"{len(listed)} parts are too many", f"expected at most {MAX_PARTS}; use count")
        ]
    parts: dict[str, Part] = {}
    findings: list[Finding] = []
    for name, fields in listed.items():
        part, of_part = _part(name, fields, context)
        findings += [finding.within("parts", name) for finding in of_part]
        if part is not None:
            parts[name] = part
    outlines = {name: part for name, part in parts.items() if isinstance(part, OutlinePanel)}
    segments = sum(len(subpath.segments) for part in outlines.values() for subpath in part.path)
    if segments > MAX_SEGMENTS:
        wrong = f"the outlines of the piece have {segments} segments together"
        return {}, [*findings, Finding(("parts",), wrong, f"expected at most {MAX_SEGMENTS}")]
    return parts, findings


def _part(name: str, fields: object, context: Mapping[str, Any]) -> tuple[Part | None, list[Finding]]:
    unnamed = wrong_with_name(name)
    if unnamed is not None:
        return None, [Finding((), *unnamed, at_key=True)]
    if not isinstance(fields, dict):
        return None, [Finding((), "the part has no fields", "expected fields such as shape: board")]
    shape = fields.get("shape")
    if shape is None:
        return None, [Finding(("shape",), "field 'shape' is missing", f"expected one of {', '.join(SHAPES)}")]
    if not isinstance(shape, str) or shape not in SHAPES:
        return None, [Finding(("shape",), f"shape '{str(shape)[:40]}' is unknown", did_you_mean(str(shape), SHAPES))]
    part, findings = validate(SHAPES[shape], fields, more=context)
    if part is not None:
        findings += _unknown_faces(part)
    if fields.get("grain") == "width" and not SHAPES[shape].HAS_WIDTH and shape != "mesh":
        findings.append(Finding(("grain",), f"a {shape} has no width for the grain to run along", "leave grain out"))
    return (None if findings else part), findings


def _unknown_faces(part: Part) -> list[Finding]:
    names = part.face_names()
    return [
        Finding(
            ("faces", face),
            f"a {part.shape} like this has no face {shown(face)}",
            did_you_mean(face, names),
            at_key=True,
        )
        for face in part.faces
        if face not in names
    ]


def _assemblies(data: Mapping[str, Any], names: set[str]) -> tuple[dict[str, Assembly], list[Finding]]:
    listed = data.get("assemblies")
    if listed is None and "assemblies" not in data:
        return {}, []
    if not isinstance(listed, dict):
        return {}, [
            Finding(("assemblies",), "this is not a group of assemblies", "expected base: {parts: [leg, apron]}")
        ]
    assemblies: dict[str, Assembly] = {}
    findings: list[Finding] = []
    taken: dict[str, str] = {}
    for name, fields in listed.items():
        assembly, of_assembly = validate(Assembly, fields)
        unnamed = wrong_with_name(name)
        if unnamed is not None:
            assembly, of_assembly = None, [Finding((), *unnamed, at_key=True)]
        findings += [finding.within("assemblies", name) for finding in of_assembly]
        if name in names:
            wrong = f"{shown(name)} is both an assembly and a part"
            findings.append(Finding(("assemblies", name), wrong, "give the assembly another name", at_key=True))
        if assembly is None:
            continue
        for index, part in enumerate(assembly.parts):
            where = ("assemblies", name, "parts", index)
            if part not in names:
                findings.append(Finding(where, f"there is no part '{part}'", did_you_mean(part, sorted(names))))
            elif part in taken:
                findings.append(Finding(where, f"part '{part}' is already in '{taken[part]}'", "name it once"))
            else:
                taken[part] = name
        if not assembly.parts:
            findings.append(
                Finding(("assemblies", name, "parts"), "the assembly has no parts", "expected [leg, apron]")
            )
        assemblies[name] = assembly
    return assemblies, findings


def _joints(data: Mapping[str, Any], parts: Mapping[str, Part]) -> tuple[tuple[Joint, ...], list[Finding]]:
    listed = data.get("joints")
    if listed is None and "joints" not in data:
        return (), []
    example = "expected a list such as - {from: apron, face: ends, to: leg, on: blocks}"
    if not isinstance(listed, list):
        return (), [Finding(("joints",), "this is not a list of joints", example)]
    if len(listed) > MAX_JOINTS:
        return (), [Finding(("joints",), f"{len(listed)} joints are too many", f"expected at most {MAX_JOINTS}")]
    names = set(data["parts"]) if isinstance(data.get("parts"), dict) else set()
    joints: list[Joint] = []
    findings: list[Finding] = []
    for index, fields in enumerate(listed):
        joint, of_joint = validate(Joint, fields)
        findings += [finding.within("joints", index) for finding in of_joint]
        if joint is None:
            continue
        joints.append(joint)
        for end, part, face_field, face in (
            ("from", joint.from_, "face", joint.face),
            ("to", joint.to, "on", joint.on),
        ):
            if part not in names:
                where = ("joints", index, end)
                findings.append(Finding(where, f"there is no part '{part}'", did_you_mean(part, sorted(names))))
            elif part in parts and face not in parts[part].face_names():
                where = ("joints", index, face_field)
                wrong = f"part '{part}' has no face '{face}'"
                findings.append(Finding(where, wrong, did_you_mean(face, parts[part].face_names())))
    return tuple(joints), findings


def _titles(records: Collection[str]) -> dict[str, str]:
    """Return what records are called in words, and what they are for, by their names; nothing of bare names."""
    if not isinstance(records, Mapping):
        return {}
    return {name: f"{record.title} {getattr(record, 'use', '')}" for name, record in records.items()}


def _unknown_names(data: Mapping[str, Any], known: Known) -> list[Finding]:
    """Return a finding for every timber, system and surface that the catalogue lacks, wherever it is named."""
    findings: list[Finding] = []
    sorts = {"timber": known.timbers, "system": known.systems, "surface": known.surfaces}

    def look(fields: object, path: tuple[str, ...]) -> None:
        if not isinstance(fields, dict):
            return
        for sort, records in sorts.items():
            value = fields.get(sort)
            if value is None or isinstance(value, (bool, list, dict)):
                continue  # no name at all: said where the field is read
            name = " ".join(str(value).split())
            if name not in records:
                titled = titled_so(name, _titles(records))
                expected = hint(titled, list(records)) if titled else did_you_mean(name, list(records))
                findings.append(Finding((*path, sort), f"'{name[:60]}' is not in the catalogue", expected))
        boards = fields.get("timbers")
        for board, value in boards.items() if isinstance(boards, dict) else ():
            if isinstance(value, str) and value not in known.timbers:
                expected = did_you_mean(value, list(known.timbers))
                findings.append(Finding((*path, "timbers", board), f"'{value[:60]}' is not in the catalogue", expected))
        for name, rule in fields["faces"].items() if isinstance(fields.get("faces"), dict) else ():
            look(rule, (*path, "faces", name))

    look({name: data.get(name) for name in ("timber", "system")}, ())
    for group in ("assemblies", "parts"):
        members = data.get(group)
        for name, fields in members.items() if isinstance(members, dict) else ():
            look(fields, (group, name))
    return findings
