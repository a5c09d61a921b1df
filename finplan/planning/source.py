"""What a plan is made from: the files as read, with every problem, and what goes on what."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from finplan.catalogue import Catalogue, bundled_catalogue, grade_sizes, overruled, with_own
from finplan.figures import checked
from finplan.inputs import Known, Piece, PieceFile, Shop, ShopFile, load_piece, load_shop
from finplan.problems import Finding, FindingsError, Problem, RefusedError
from finplan.quantity import Units
from finplan.sanding import sanding_findings, sanding_plan
from finplan.surface import PieceSurface, piece_surface, surface_findings
from finplan.system import Treatment, compatibility_findings, missing_choices, treatments

Paper = Literal["a4", "letter"]


@dataclass(frozen=True, slots=True)
class Source:
    """Everything that was read: the piece, the shop, and the catalogue with the shop's own values laid over it."""

    piece_file: PieceFile
    shop_file: ShopFile
    catalogue: Catalogue
    units: Units
    paper: Paper

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
            grits=grade_sizes(catalogue),
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


def digest_of(sources: Sequence[Source]) -> str:
    """Return a digest of the bytes of all files that pieces of one shop were read from."""
    shop_file = sources[0].shop_file
    documents = [*(source.piece_file.document for source in sources), shop_file.document, *shop_file.records.values()]
    joined = " ".join(document.digest for document in documents if document is not None)
    return hashlib.sha256(joined.encode()).hexdigest()[:16]


def with_lines(source: Source, error: FindingsError) -> RefusedError:
    """Return what a room found, with the lines of the piece file."""
    return RefusedError([source.piece_file.document.problem(finding) for finding in error.findings])


def surface_of(source: Source) -> PieceSurface:
    """Return the faces of the piece.

    Raises
    ------
    NotPossibleError
        An area comes to no number.
    """
    return checked(piece_surface(source.piece), f"the surface of {source.piece.name}")


def treatments_of(source: Source, surface: PieceSurface, key: str = "") -> tuple[Treatment, ...]:
    """Return what every item gets; *key* goes before all ids, where there are several pieces.

    Raises
    ------
    RefusedError
        A part lacks a timber or a system, the shop lacks a method, two things do not go together, or a face cannot be
        sanded as the file asks.
    """
    try:
        found = treatments(source.piece, surface, source.catalogue, source.shop.methods, key)
    except FindingsError as error:
        raise with_lines(source, error) from None
    refused = [problem for problem in _clashes(source, found) if problem.severity == "error"]
    refused += _not_sanded(source, surface, found)
    if refused:
        raise RefusedError(sorted(refused))
    return found


def risks_of(source: Source, found: Iterable[Treatment]) -> tuple[Problem, ...]:
    """Return the warnings about what goes on what."""
    return tuple(problem for problem in _clashes(source, found) if problem.severity == "warning")


def clashes_of(source: Source, surface: PieceSurface) -> tuple[Problem, ...]:
    """Return all that does not go together, risks to fail or cannot be sanded so, whatever else the shop can do.

    Parts for which no timber or no system is named yet are left out.
    """
    piece = source.piece
    lacking = {finding.path for finding in missing_choices(piece)}
    chosen = replace(piece, parts={name: part for name, part in piece.parts.items() if ("parts", name) not in lacking})
    found = treatments(chosen, surface, source.catalogue, tuple(source.catalogue.methods))
    return tuple(sorted((*_clashes(source, found), *_not_sanded(source, surface, found))))


def _clashes(source: Source, found: Iterable[Treatment]) -> tuple[Problem, ...]:
    findings = compatibility_findings(source.piece, found, source.catalogue)
    return tuple(sorted(source.piece_file.document.problem(finding) for finding in findings))


def _not_sanded(source: Source, surface: PieceSurface, found: tuple[Treatment, ...]) -> list[Problem]:
    plan = sanding_plan(found, surface, source.catalogue, source.shop)
    findings = sanding_findings(source.piece, plan, source.catalogue)
    return [source.piece_file.document.problem(finding) for finding in findings]


def missing_for_plan(piece: Piece) -> list[Finding]:
    """Return warnings about what a plan will need and the file does not say yet."""
    return [replace(finding, severity="warning") for finding in missing_choices(piece)]
