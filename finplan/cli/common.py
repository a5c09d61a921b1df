"""What commands share: reading, asking for a plan, and printing."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import typer

from finplan.cli.options import PaperChoice, UnitsChoice
from finplan.place import shop_beside

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from finplan.planning import Plan, PlannedPiece, Source
    from finplan.problems import Problem
    from finplan.timetable import Progress

T = TypeVar("T")
_LINE = 70
"""Letters of what is being done that are shown: a line that wraps cannot be taken back."""


def show_lines(lines: list[str]) -> None:
    """Print lines for people."""
    typer.echo("\n".join(lines))


def with_bar(label: str, work: Iterable[T], length: int) -> list[T]:
    """Do the work, with a bar on a terminal and without a word in a pipe."""
    if not sys.stderr.isatty():
        return list(work)
    with typer.progressbar(work, length=length, label=label, file=sys.stderr) as bar:
        return list(bar)


@contextmanager
def busy(label: str) -> Iterator[Callable[[str], None]]:
    """Say on a terminal, and only there, what is being done until it is done; gives what to say it with."""
    shown = sys.stderr.isatty()

    def say(words: str) -> None:
        if shown:
            typer.echo(f"\r\033[K{words[:_LINE]} …", nl=False, err=True)

    say(label)
    try:
        yield say
    finally:
        if shown:
            typer.echo("\r\033[K", nl=False, err=True)


def tell(as_json: bool, data: Callable[[], Any], lines: Callable[[], list[str]]) -> None:
    """Print the data for other programs, or the lines for people."""
    if as_json:
        from finplan.data import as_json as to_json

        show_json(to_json(data()))
    else:
        show_lines(lines())


def told_first(sentences: Sequence[str], *, as_data: bool) -> list[str]:
    """Return sentences without their stops as lines to begin with; beside data they are said on the error stream."""
    from finplan.showing import capital

    lines = [f"{capital(sentence)}." for sentence in sentences]
    if as_data:
        for line in lines:
            typer.echo(line, err=True)
    return [*lines, ""] if lines else []


def show_json(text: str) -> None:
    """Print JSON, in UTF-8 wherever it goes. RFC 8259, section 8.1."""
    typer.echo(f"{text}\n".encode(), nl=False)


def show_csv(text: str) -> None:
    """Print rows for a spreadsheet, in UTF-8 wherever they go: a letter that was replaced is another name there."""
    typer.echo(text.encode(), nl=False)


def refuse_both(as_json: bool, as_csv: bool) -> None:
    """Refuse to print in two forms at once."""
    if as_json and as_csv:
        raise typer.BadParameter("either --json or --csv", param_hint="--csv")


def piece_of(file: Path, shop: Path | None, units: UnitsChoice | None) -> PlannedPiece:
    """Return what a command on one piece works on, without its sample board, with a word about what is unlikely."""
    return pieces_of([file], shop, units)[0]


def pieces_of(
    files: list[Path], shop: Path | None, units: UnitsChoice | None, paper: PaperChoice | None = None
) -> tuple[PlannedPiece, ...]:
    """Return what a command on several pieces works on, with a word about what is unlikely."""
    from finplan.planning import read_sources, together

    sources = read_sources(
        files,
        shop_beside(files, shop),
        units=None if units is None else units.value,
        paper=None if paper is None else paper.value,
    )
    pieces = together(sources)
    warn(pieces, dict.fromkeys(warning for source in sources for warning in source.warnings))
    return pieces


def warn(pieces: Sequence[PlannedPiece], warnings: Iterable[Problem]) -> None:
    """Say on the error stream what is possible but unlikely, and what of it no file accepts."""
    from finplan.planning import unaccepted
    from finplan.problems import problem_lines

    for line in problem_lines(unaccepted(pieces, warnings)):
        typer.echo(line, err=True)


def heads(pieces: Sequence[PlannedPiece]) -> list[str]:
    """Return the pieces and the shop that was assumed."""
    return [*(piece.source.piece.name for piece in pieces), _shop_line(pieces[-1].source), ""]


def _shop_line(source: Source) -> str:
    from finplan.cli.shop import default_shop_words

    if source.shop_file.document is None:
        return f"No shop file: {default_shop_words()}."
    defaults = source.shop_file.defaults
    taken = f"; from the default shop: {', '.join(defaults)}" if defaults else ""
    return f"Shop: {source.shop.shop}{taken}."


def whole_plan(plan: Plan) -> Plan:
    """Reckon a plan as a whole, with a word about what is being done and about what risks to fail."""
    with busy("planning") as say:
        plan = with_progress_of(plan, say).whole()
    warn(plan.pieces, plan.findings)
    return plan


def with_progress_of(plan: Plan, say: Callable[[str], None]) -> Plan:
    """Return a plan that tells what it is doing; one whose timetable is known has nothing to tell."""
    return plan if plan.knows_timetable else replace(plan, wishes=replace(plan.wishes, progress=in_words(say)))


def in_words(say: Callable[[str], None]) -> Progress:
    """Return what hears what a plan is doing, and says it."""
    from finplan.telling import progress_words

    return lambda doing: say(progress_words(doing))
