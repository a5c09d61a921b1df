"""The face to call from Python: read a piece, plan it, and show what is planned.

A piece and a plan are reckoned stage by stage: each stage is an attribute, which is reckoned when it is first asked for
and then kept. All numbers are floats with the unit in the name; a range has ``low``, ``typical`` and ``high``.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, tzinfo
from pathlib import Path
from typing import Any

from finplan import planning
from finplan.inputs import Paper
from finplan.planning import (
    PlannedPiece,
    WishError,
    Wishes,
    Workshop,
    date_of,
    done_of,
    moment_of,
    read_sources,
    read_workshop,
    seconds_of,
    sure_enough,
    together,
)
from finplan.quantity import Units
from finplan.reading import GivenDate, Written
from finplan.timetable import ReadyFor
from finplan.whole_file import check_output

Text = str | os.PathLike[str]
"""A path; or, in a string of more than one line, what would stand in the file."""
When = str | date | datetime
"""A day, or a moment on the shop's clock unless it knows another; in text ``2027-03-12`` or ``2027-03-12 15:00``."""


class Plan(planning.Plan):
    """Pieces finished together in one shop, planned; a notebook shows its timetable.

    Its stages are ``pieces``, each with ``surface``, ``treatments``, ``sanding``, ``operations`` and ``drawings``;
    ``materials``, ``timetable``, ``safety``, ``precautions`` and ``findings``.
    """

    def data(self) -> dict[str, Any]:
        """Return all of it as plain data, as ``finplan plan`` prints it; every key is explained in its JSON Schema."""
        from finplan.data import plain, plan_data

        found: dict[str, Any] = plain(plan_data(self))
        return found

    def html(self) -> str:
        """Return the printed sheet as one HTML page, which needs no other file."""
        from finplan.sheet import sheet_html

        return sheet_html(self)

    def pdf(self, output: Text) -> None:
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
            The file ends otherwise, there is no such folder, it is one that was read for this plan, under whatever
            name, it cannot be written, or there is no page renderer.
        """
        from finplan.typesetting import write_pdf

        target = Path(_given("output", output))
        check_output(target, (".pdf",), "the sheet", (file for one in self.pieces for file in one.source.files))
        write_pdf(self.html(), target)

    def _repr_svg_(self) -> str | None:
        from finplan.sheet import picture_svg

        return picture_svg(self)


def read(
    piece: Text,
    *,
    shop: Text | Workshop | None = None,
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
        What is given is neither a path nor a text.
    """
    sources = read_sources([_written("piece", piece, name)], _shop(shop), units=units, paper=paper)
    return together(sources)[0]


def read_shop(shop: Text) -> Workshop:
    """Return a shop as its file or text describes it, with the catalogue as it has it.

    Raises
    ------
    RefusedError
        The shop file cannot be read, or something in it or in the shop's own records is wrong.
    WishError
        What is given is neither a path nor a text.
    """
    return read_workshop(_shop(shop))


def plan(
    *pieces: PlannedPiece | Text,
    shop: Text | Workshop | None = None,
    start: When | None = None,
    deliver: When | None = None,
    sure: float = 0.9,
    asap: bool = False,
    largest_buffer: bool = False,
    ready_for: ReadyFor = "light-use",
    done: Iterable[str] | Mapping[str, When | None] = (),
    lost_day: date | None = None,
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
        What is wanted cannot be understood or had, or what is given is no piece.
    """
    read_ = _pieces(pieces, shop)
    zone = read_[0].source.shop.time_zone
    now = datetime.now(UTC)
    begins = now if start is None else moment_of(_calendar("start", start, zone), zone).astimezone(UTC)
    given = done if isinstance(done, Mapping) else dict.fromkeys(done)
    ended = {
        step: begins if when is None else moment_of(_calendar("done", when, zone), zone) for step, when in given.items()
    }
    wishes = Wishes(
        asap=asap,
        largest_buffer=largest_buffer,
        ready_for=ready_for,
        limit_s=seconds_of(limit_s),
        done=done_of(read_, ended, max(begins, now)),
        lost_day=lost_day,
    )
    due = None if deliver is None else _calendar("deliver", deliver, zone)
    return Plan(read_, begins, due, sure_enough(sure), wishes)


def _pieces(pieces: Iterable[PlannedPiece | Text], shop: Text | Workshop | None) -> tuple[PlannedPiece, ...]:
    workshop = read_workshop(_shop(shop))
    read_ = [
        one
        if isinstance(one, PlannedPiece)
        else read(_given("pieces", one), shop=workshop, name=f"piece-{number}.yaml")
        for number, one in enumerate(pieces, start=1)
    ]
    if not read_:
        raise WishError("pieces", "there is nothing to plan; give a piece")
    if any(one.source.shop_file != read_[0].source.shop_file for one in read_):
        raise WishError("shop", "the pieces were read with several shops; read all of them with one")
    return (read_[0],) if len(read_) == 1 else together([one.source for one in read_])


def _given(wish: str, text: object) -> Text:
    """Return what is given as a path or a text, else raise ``WishError``: no reader of types has to have looked."""
    if isinstance(text, (str, os.PathLike)):
        return text
    what = "nothing" if text is None else f"a {type(text).__name__}"
    hint = "; give pieces one by one, as in plan(table, bench)" if wish == "pieces" else ""
    raise WishError(wish, f"{what} is given where a path{'' if wish == 'output' else ' or a text'} is expected{hint}")


def _written(wish: str, text: Text, name: str) -> Written:
    text = _given(wish, text)
    if isinstance(text, str) and "\n" in text:
        return Written(Path(name), text)
    return Written(Path(text))


def _shop(shop: Text | Workshop | None) -> Written | Workshop | None:
    return shop if shop is None or isinstance(shop, Workshop) else _written("shop", shop, "shop.yaml")


def _calendar(wish: str, when: When, zone: tzinfo) -> GivenDate:
    if isinstance(when, datetime):
        here = when if when.tzinfo is None else when.astimezone(zone)
        when = f"{here:%Y-%m-%d %H:%M}"
    return date_of(wish, str(when))
