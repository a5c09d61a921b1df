"""The face to call from Python: read a piece, plan it, and show what is planned.

A piece and a plan are reckoned stage by stage: each stage is an attribute, which is reckoned when it is first asked for
and then kept. All numbers are floats with the unit in the name; a range has ``low``, ``typical`` and ``high``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from typing import Any

from finplan import given, planning
from finplan.given import TextOrPath, When
from finplan.inputs import Paper
from finplan.planning import (
    PlannedPiece,
    Wishes,
    Workshop,
    done_of,
    moment_of,
    read_sources,
    read_workshop,
    together,
    with_samples,
)
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.showing import capital
from finplan.timetable import ReadyFor
from finplan.whole_file import check_output


class Plan(planning.Plan):
    """Pieces finished together in one shop, planned; a notebook shows its timetable.

    Its stages are ``pieces``, each with ``surface``, ``treatments``, ``sanding``, ``operations`` and ``drawings``;
    ``materials``, ``timetable``, ``safety``, ``precautions`` and ``findings``.
    """

    def data(self) -> dict[str, Any]:
        """Return all of it as plain data, as ``finplan plan`` prints it; every key is explained in its JSON Schema.

        Raises
        ------
        RefusedError, NotFoundYetError
            A stage that it needs raises it.
        """
        from finplan.data import plain_data, plan_data

        data: dict[str, Any] = plain_data(plan_data(self))
        return data

    def html(self) -> str:
        """Return the printed sheet as one HTML page, which needs no other file.

        Raises
        ------
        NotPossibleError
            It does not fit, so there is no timetable to print; says what clashes.
        RefusedError, NotFoundYetError
            As from ``data``.
        """
        from finplan.sheet import sheet_html
        from finplan.telling import clash_words

        if not self.timetable.has_plan:
            raise NotPossibleError(" ".join(map(capital, clash_words(self.timetable))))
        return sheet_html(self)

    def pdf(self, output: TextOrPath) -> None:
        """Write the printed sheet as a PDF.

        Parameters
        ----------
        output
            The file, which ends with ``.pdf``; one that is there is replaced

        Raises
        ------
        WishError
            *output* is no path.
        NotPossibleError
            It does not fit, the file ends otherwise, there is no such folder, it is one that was read for this plan,
            under whatever name, it cannot be written, or there is no page renderer.
        RefusedError, NotFoundYetError
            As from ``data``.
        """
        from finplan.typesetting import write_pdf

        target = given.path("output", output)
        check_output(target, (".pdf",), "the sheet", (file for piece in self.pieces for file in piece.source.files))
        write_pdf(self.html(), target)

    def _repr_svg_(self) -> str | None:
        from finplan.sheet import picture_svg

        return picture_svg(self)


def read(
    piece: TextOrPath,
    *,
    shop: TextOrPath | Workshop | None = None,
    units: Units | None = None,
    paper: Paper | None = None,
    name: str = "piece.yaml",
) -> PlannedPiece:
    """Return a piece as its file or text describes it, in a shop.

    Parameters
    ----------
    piece
        The piece file, or its text. A text lies in no folder: it cannot name a mesh
    shop
        The shop file, its text, or a shop that ``read_shop`` gave, which saves reading it again; None for the default
        shop
    units, paper
        What to show and print in; else what the files say
    name
        What problems call a text

    Returns
    -------
    PlannedPiece
        Its stages are ``surface`` (m²), ``treatments``, ``sanding`` (h, g), ``operations`` (h) and ``drawings`` (SVG)

    Raises
    ------
    RefusedError
        Something in what was read is wrong; its ``problems`` are all of them, with line, what is wrong and what is
        expected. A stage raises it too, where a piece cannot be finished so. So does a file that cannot be read
    WishError
        An argument is not what it has to be; names it, and says what is expected.
    """
    written = given.written("piece", piece, given.name("name", name))
    sources = read_sources(
        [written],
        given.shop(shop),
        units=None if units is None else given.one_of("units", units, Units),
        paper=None if paper is None else given.one_of("paper", paper, Paper),
    )
    return together(sources)[0]


def read_shop(shop: TextOrPath | None = None) -> Workshop:
    """Return a shop as its file or text describes it, with the catalogue as it has it.

    Parameters
    ----------
    shop
        The shop file, or its text; None for the default shop

    Raises
    ------
    RefusedError
        The shop file cannot be read, or something in it or in the shop's own records is wrong.
    WishError
        What is given is neither a path nor a text.
    """
    return read_workshop(given.shop(shop))


def plan(
    *pieces: PlannedPiece | TextOrPath,
    shop: TextOrPath | Workshop | None = None,
    start: When | None = None,
    deliver: When | None = None,
    sure: float = 0.9,
    asap: bool = False,
    largest_buffer: bool = False,
    ready_for: ReadyFor = "light-use",
    done: Iterable[str] | Mapping[str, When | None] = (),
    lost_day: str | date | None = None,
    limit_s: float | None = None,
) -> Plan:
    """Return the plan of one piece, or of several that are finished together; nothing of it is reckoned yet.

    Parameters
    ----------
    pieces
        What ``read`` gave, files, or texts
    shop
        For files and texts, as for ``read``
    start
        The earliest moment of work; now, where it is left out
    deliver
        The delivery, where it is not the piece files'
    sure
        The probability wanted that what is bought is enough, from 0.5 to 0.999
    asap
        Ready as early as can be, instead of begun as late as is safe
    largest_buffer
        As much between ready and delivery as can be had, instead of what the shop wants
    ready_for
        What a piece has to be ready for: ``handle``, ``light-use`` or ``cure``
    done
        Ids of steps that are done, each with when it ended; without that, when work starts. A step stands for all that
        come before it
    lost_day
        A day on which, as turns out in the morning, nobody works
    limit_s
        How long to search for the timetable. [s], 1 to 3600

    Raises
    ------
    RefusedError
        A file cannot be read, or a file or a text is wrong.
    WishError
        An argument is not what it has to be, or what is wanted cannot be had; names it and says what is expected.
    """
    read_ = _pieces(pieces, shop)
    zone = read_[0].source.shop.time_zone
    now = datetime.now(UTC)
    with given.named():
        begins = now if start is None else moment_of(given.day_or_moment("start", start, zone), zone).astimezone(UTC)
        ended = {
            step: begins if when is None else moment_of(given.day_or_moment("done", when, zone), zone)
            for step, when in given.ended("done", done).items()
        }
        wishes = Wishes(
            asap=given.true_or_false("asap", asap),
            largest_buffer=given.true_or_false("largest_buffer", largest_buffer),
            ready_for=given.one_of("ready_for", ready_for, ReadyFor),
            limit_s=given.seconds("limit_s", limit_s),
            done=done_of(read_, ended, max(begins, now)),
            lost_day=None if lost_day is None else given.day("lost_day", lost_day, zone),
        )
        due = None if deliver is None else given.day_or_moment("deliver", deliver, zone)
        return Plan(read_, begins, due, given.probability("sure", sure), wishes)


def _pieces(
    pieces: Iterable[PlannedPiece | TextOrPath], shop: TextOrPath | Workshop | None
) -> tuple[PlannedPiece, ...]:
    workshop = read_workshop(given.shop(shop))
    read_ = [
        piece
        if isinstance(piece, PlannedPiece)
        else together(read_sources([given.written("pieces", piece, f"piece-{number}.yaml")], workshop))[0]
        for number, piece in enumerate(pieces, start=1)
    ]
    if not read_:
        raise given.ArgumentError("pieces", "there is nothing to plan; give a piece")
    if any(piece.source.shop_file != read_[0].source.shop_file for piece in read_):
        raise given.ArgumentError("shop", "the pieces were read with several shops; read all of them with one")
    return with_samples(read_) if len(read_) == 1 else together([piece.source for piece in read_])
