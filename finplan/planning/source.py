"""What a plan is made from: pieces and a workshop as they were read, from files or from text, with every problem."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from finplan.catalogue import Catalogue
from finplan.inputs import (
    Known,
    PackPrice,
    Paper,
    Piece,
    PieceFile,
    Shop,
    ShopFile,
    currency_of,
    dated_in_piece,
    dated_in_shop,
    mixed_currencies,
    money_in,
    not_accepted,
    piece_file_of,
    plausible_sizes,
    with_prices,
)
from finplan.planning.workshop import Workshop, workshop_and_problems
from finplan.problems import Finding, FindingsError, Problem, RefusedError, shown
from finplan.quantity import Units
from finplan.reading import Currency, Written
from finplan.surface import PieceSurface, measured
from finplan.system import missing_choices


@dataclass(frozen=True, slots=True)
class Source:
    """Everything that was read: the piece, the shop, and the catalogue with the shop's own values laid over it."""

    piece_file: PieceFile
    shop_file: ShopFile
    catalogue: Catalogue
    units: Units
    paper: Paper
    surface: PieceSurface
    """The faces of the piece, which were measured to see whether its sizes can be."""

    @property
    def piece(self) -> Piece:
        """The piece."""
        return self.piece_file.piece

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.shop_file.shop

    @property
    def files(self) -> tuple[Path, ...]:
        """What it was read from: the piece file, the shop file and the shop's own records; a text by its name."""
        documents = (self.piece_file.document, self.shop_file.document, *self.shop_file.records.values())
        return tuple(document.file for document in documents if document is not None)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What is possible but unlikely in the piece file and the shop file, and what neither accepts."""
        problems = [problem for problem in self.piece_file.problems if problem.severity == "warning"]
        return not_accepted([*problems, *self.shop_file.doubts], {*self.piece.accepted, *self.shop.accept})

    def doubtful_on(self, today: date) -> tuple[Problem, ...]:
        """Return the warnings about what can hardly be meant so on that day, the shop's."""
        shop_file = self.shop_file
        problems = self.located(dated_in_piece(self.piece, today))
        if shop_file.document is not None:
            problems += tuple(shop_file.document.problem(finding) for finding in dated_in_shop(shop_file.shop, today))
        return problems

    def located(self, findings: Iterable[Finding]) -> tuple[Problem, ...]:
        """Return what a room found, with the lines of the piece file, in their order."""
        return tuple(sorted(self.piece_file.document.problem(finding) for finding in findings))

    def refused(self, error: FindingsError) -> RefusedError:
        """Return what a room refused, with the lines of the piece file."""
        return RefusedError(self.located(error.findings))

    def with_piece(self, piece: Piece) -> Source:
        """Return the same with another piece of the same sizes in the place of that in the file."""
        return replace(self, piece_file=replace(self.piece_file, piece=piece))

    def with_methods(self, methods: tuple[str, ...]) -> Source:
        """Return the same in a shop that puts finishes on in these ways alone."""
        shop = self.shop.model_copy(update={"methods": methods})
        return replace(self, shop_file=replace(self.shop_file, shop=shop))


def read_source(
    piece_path: Path, shop_path: Path | None, *, units: Units | None = None, paper: Paper | None = None
) -> Source:
    """Return all that the plan of one piece is made from; as ``read_sources``."""
    return read_sources([piece_path], shop_path, units=units, paper=paper)[0]


def read_sources(
    pieces: Sequence[Path | Written],
    shop: Path | Written | Workshop | None,
    *,
    units: Units | None = None,
    paper: Paper | None = None,
) -> tuple[Source, ...]:
    """Return all that the plans of pieces in one shop are made from, in the order in which they are given.

    Parameters
    ----------
    pieces
        Files, or what stands in none
    shop
        Likewise, or a workshop that was read before; without one the default shop is taken
    units, paper
        What is asked for; else the piece's, else the shop's

    Raises
    ------
    RefusedError
        Something is wrong with what was read; carries every problem of all of it.
    """
    workshop, catalogue, of_workshop = workshop_and_problems(shop)
    problems = list(of_workshop)
    read: list[tuple[PieceFile, PieceSurface]] = []
    for piece in pieces:
        try:
            piece_file, surface = checked_piece(piece, catalogue)
        except RefusedError as error:
            problems += error.problems
            continue
        problems += [problem for problem in piece_file.problems if problem.severity == "error"]
        read.append((piece_file, surface))
    shop_currency = None if workshop is None else workshop.shop.currency
    catalogue, unpriced = _with_prices_of([piece_file for piece_file, _ in read], catalogue, shop_currency)
    problems += unpriced
    if problems or workshop is None:
        raise RefusedError(problems)
    return tuple(
        Source(
            piece_file=piece_file,
            shop_file=workshop.shop_file,
            catalogue=catalogue,
            units=units or piece_file.piece.units or workshop.shop.units,
            paper=paper or workshop.shop.paper,
            surface=surface,
        )
        for piece_file, surface in read
    )


def _with_prices_of(
    pieces: Sequence[PieceFile], catalogue: Catalogue, currency: Currency | None
) -> tuple[Catalogue, list[Problem]]:
    """Return the catalogue with what pieces of one order say of prices, and every problem with that."""
    said: dict[str, tuple[PackPrice, ...]] = {}
    problems: list[Problem] = []
    for piece in pieces:
        own = piece.piece.prices
        money = list(money_in(None, own))
        findings = list(mixed_currencies(money, currency))
        currency = currency or currency_of(money)
        for name, packs in own.items():
            if said.setdefault(name, packs) != packs:
                findings.append(
                    Finding(
                        ("prices", name),
                        f"another piece of this order gives {shown(name)} other prices",
                        "expected one price: what is needed is bought at once",
                    )
                )
        catalogue, of_prices = with_prices(catalogue, own)
        findings += [finding.within("prices") for finding in of_prices]
        problems += [piece.document.problem(finding) for finding in findings]
    return catalogue, problems


def checked_piece(piece: Path | Written, catalogue: Catalogue) -> tuple[PieceFile, PieceSurface]:
    """Return a piece with every problem of its text and of its geometry, and the faces of all parts that are sound.

    Raises
    ------
    RefusedError
        It is not YAML.
    """
    written = Written.of(piece)
    loaded = piece_file_of(written.document(), Known.of(catalogue), folder=written.folder)
    surface, findings = measured(loaded.piece, plausible_sizes(catalogue.files))
    problems = [loaded.document.problem(finding) for finding in findings]
    return PieceFile(loaded.piece, loaded.document, tuple(sorted({*loaded.problems, *problems}))), surface


def digest_of(sources: Sequence[Source]) -> str:
    """Return a digest of the bytes of all files that pieces of one shop were read from."""
    shop_file = sources[0].shop_file
    documents = [*(source.piece_file.document for source in sources), shop_file.document, *shop_file.records.values()]
    joined = " ".join(document.digest for document in documents if document is not None)
    return hashlib.sha256(joined.encode()).hexdigest()[:16]


def missing_for_plan(piece: Piece) -> list[Finding]:
    """Return warnings about what a plan will need and the file does not say yet."""
    return [replace(finding, severity="warning") for finding in missing_choices(piece)]
