"""The order of the rooms: from files to one frozen Plan. Nothing is computed after it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Literal

from finplan import __version__
from finplan.catalogue import Catalogue, bundled_catalogue, overruled, with_own
from finplan.drawing import piece_drawings
from finplan.inputs import Known, Piece, PieceFile, Shop, ShopFile, load_piece, load_shop
from finplan.material import DEFAULT_CONFIDENCE, MaterialPlan, material_plan
from finplan.problems import Finding, FindingsError, Problem, RefusedError
from finplan.quantity import Units
from finplan.reading import Calendar, Document
from finplan.safety import CautionLine, cautions
from finplan.sanding import SandingPlan, sanding_plan
from finplan.surface import PieceSurface, piece_surface, surface_findings
from finplan.system import Treatment, compatibility_findings, missing_choices, treatments
from finplan.timetable import Job, Operation, Timetable, operations, solve

Paper = Literal["a4", "letter"]


@dataclass(frozen=True, slots=True)
class Source:
    """Everything that was read: the piece, the shop, and the catalogue with the shop's own values laid over it."""

    piece_file: PieceFile
    shop_file: ShopFile
    catalogue: Catalogue
    units: Units
    paper: Paper
    digest: str
    """Of the files' bytes, so that a sheet can be matched to what it was made from."""

    @property
    def piece(self) -> Piece:
        """The piece."""
        return self.piece_file.piece

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.shop_file.shop

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What is possible but unlikely."""
        return tuple(problem for problem in self.piece_file.problems if problem.severity == "warning")


@dataclass(frozen=True, slots=True)
class Plan:
    """One piece, planned. Renderers show it and compute nothing."""

    source: Source
    surface: PieceSurface
    treatments: tuple[Treatment, ...]
    sanding: SandingPlan
    materials: MaterialPlan
    timetable: Timetable
    cautions: tuple[CautionLine, ...]
    findings: tuple[Problem, ...]
    """What risks to fail between timber and coats, with what to do about it."""
    drawings: Mapping[str, str]
    """The drawing of every part, as SVG, by the part's name."""
    version: str = __version__


def read_source(
    piece_path: Path, shop_path: Path | None, *, units: Units | None = None, paper: Paper | None = None
) -> Source:
    """Return all that the plan of one piece is made from; as ``read_sources``."""
    return read_sources([piece_path], shop_path, units=units, paper=paper)[0]


def read_sources(
    piece_paths: Sequence[Path], shop_path: Path | None, *, units: Units | None = None, paper: Paper | None = None
) -> tuple[Source, ...]:
    """Return all that the plans of pieces in one shop are made from, in the order of the files.

    Parameters
    ----------
    piece_paths, shop_path
        The files; without a shop file the default shop is taken
    units, paper
        What the command line asks for; else the piece's, else the shop's

    Raises
    ------
    RefusedError
        Something in the files is wrong; carries every problem of all of them.
    """
    shop_file, catalogue, found = shop_and_catalogue(shop_path)
    problems = list(found)
    piece_files: list[PieceFile] = []
    for path in piece_paths:
        try:
            piece_file = checked_piece(path, catalogue)
        except RefusedError as error:
            problems += error.problems
            continue
        problems += [problem for problem in piece_file.problems if problem.severity == "error"]
        piece_files.append(piece_file)
    if problems or shop_file is None:
        raise RefusedError(problems)
    return tuple(
        Source(
            piece_file=piece_file,
            shop_file=shop_file,
            catalogue=catalogue,
            units=units or piece_file.piece.units or shop_file.shop.units,
            paper=paper or shop_file.shop.paper,
            digest=_digest(piece_file.document, shop_file.document, *shop_file.records.values()),
        )
        for piece_file in piece_files
    )


def shop_and_catalogue(path: Path | None) -> tuple[ShopFile | None, Catalogue, tuple[Problem, ...]]:
    """Return the shop, the catalogue with its own records and its overrides, and every problem of its files.

    Where there are problems, the shop may be None and the catalogue is only good for finding more of them.

    Parameters
    ----------
    path
        The shop file; None for the default shop
    """
    catalogue = bundled_catalogue()
    try:
        shop_file = load_shop(
            path,
            methods={**catalogue.methods, **catalogue.sanding_methods},
            grits=catalogue.grades["p-grade"].sizes_um,
        )
    except RefusedError as error:
        return None, catalogue, error.problems
    catalogue, problems = with_own(catalogue, shop_file.records)
    catalogue, findings = overruled(catalogue, shop_file.shop.overrides)
    if shop_file.document is not None:
        problems += [shop_file.document.problem(finding.within("overrides")) for finding in findings]
    return shop_file, catalogue, tuple(problems)


def checked_piece(path: Path, catalogue: Catalogue) -> PieceFile:
    """Return the piece in a file with every problem of its text and of its geometry.

    Raises
    ------
    RefusedError
        The file is not YAML.
    """
    known = Known(timbers=catalogue.timbers, systems=catalogue.systems, surfaces=catalogue.surfaces)
    loaded = load_piece(path, known)
    found = [loaded.document.problem(finding) for finding in surface_findings(loaded.piece)]
    return PieceFile(loaded.piece, loaded.document, tuple(sorted({*loaded.problems, *found})))


def _digest(*documents: Document | None) -> str:
    joined = " ".join(document.digest for document in documents if document is not None)
    return hashlib.sha256(joined.encode()).hexdigest()[:16]


def with_lines(source: Source, error: FindingsError) -> RefusedError:
    """Return what a room found, with the lines of the piece file."""
    return RefusedError([source.piece_file.document.problem(finding) for finding in error.findings])


def surface_of(source: Source) -> PieceSurface:
    """Return the faces of the piece."""
    return piece_surface(source.piece)


def treatments_of(source: Source, surface: PieceSurface) -> tuple[Treatment, ...]:
    """Return what every item gets.

    Raises
    ------
    RefusedError
        A part lacks a timber or a system, the shop lacks a method, or two things do not go together.
    """
    try:
        found = treatments(source.piece, surface, source.catalogue, source.shop.methods)
    except FindingsError as error:
        raise with_lines(source, error) from None
    refused = [problem for problem in _clashes(source, found) if problem.severity == "error"]
    if refused:
        raise RefusedError(refused)
    return found


def risks_of(source: Source, found: Iterable[Treatment]) -> tuple[Problem, ...]:
    """Return the warnings about what goes on what."""
    return tuple(problem for problem in _clashes(source, found) if problem.severity == "warning")


def clashes_of(source: Source, surface: PieceSurface) -> tuple[Problem, ...]:
    """Return all that does not go together or risks to fail, whatever the shop can do.

    Parts for which no timber or no system is named yet are left out.
    """
    piece = source.piece
    lacking = {finding.path for finding in missing_choices(piece)}
    chosen = replace(piece, parts={name: part for name, part in piece.parts.items() if ("parts", name) not in lacking})
    return _clashes(source, treatments(chosen, surface, source.catalogue, tuple(source.catalogue.methods)))


def _clashes(source: Source, found: Iterable[Treatment]) -> tuple[Problem, ...]:
    findings = compatibility_findings(source.piece, found, source.catalogue)
    return tuple(sorted(source.piece_file.document.problem(finding) for finding in findings))


@dataclass(frozen=True, slots=True)
class Work:
    """What treatments take: sanding, steps, materials, and when each step is done."""

    sanding: SandingPlan
    operations: tuple[Operation, ...]
    materials: MaterialPlan
    timetable: Timetable


def work_of(
    source: Source,
    surface: PieceSurface,
    found: tuple[Treatment, ...],
    *,
    now: datetime,
    deliver: Calendar | None,
    confidence: float = DEFAULT_CONFIDENCE,
) -> Work:
    """Return what treatments take, as late as is safe before *deliver*, or at once where that is None."""
    sanding = sanding_plan(found, source.catalogue, source.shop)
    steps = operations(found, sanding, source.catalogue)
    job = Job(source.piece.name, found, steps, surface, source.catalogue, source.shop, deliver, now)
    return Work(
        sanding=sanding,
        operations=steps,
        materials=material_plan(found, source.catalogue, units=source.units, confidence=confidence),
        timetable=solve(job),
    )


def make_plan(
    source: Source,
    *,
    now: datetime,
    deliver: Calendar | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
) -> Plan:
    """Return the plan of a piece.

    Parameters
    ----------
    source
        What was read
    now
        The earliest moment at which work may start; knows its time zone
    deliver
        The delivery, where it is not the piece file's
    confidence
        The probability wanted that what is bought is enough

    Raises
    ------
    RefusedError
        A part lacks a timber or a system, the shop lacks a method, or two things do not go together.
    """
    surface = surface_of(source)
    found = treatments_of(source, surface)
    work = work_of(source, surface, found, now=now, deliver=deliver or source.piece.deliver, confidence=confidence)
    return Plan(
        source=source,
        surface=surface,
        treatments=found,
        sanding=work.sanding,
        materials=work.materials,
        timetable=work.timetable,
        cautions=cautions(found, source.catalogue),
        findings=risks_of(source, found),
        drawings=piece_drawings(source.piece, source.units),
    )


def missing_for_plan(piece: Piece) -> list[Finding]:
    """Return warnings about what a plan will need and the file does not say yet."""
    return [replace(finding, severity="warning") for finding in missing_choices(piece)]
