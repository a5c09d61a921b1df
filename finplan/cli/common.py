"""What commands share: reading, asking for a plan, and printing."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import typer

from finplan.cli.options import PaperChoice, UnitsChoice

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from datetime import datetime

    from finplan.planning import Plan, Source, Treated, Wishes
    from finplan.problems import Problem
    from finplan.reading import Calendar
    from finplan.system import Treatment
    from finplan.timetable import Timetable

T = TypeVar("T")
_LINE = 70
"""Letters of what is being done that are shown: a line that wraps cannot be taken back."""


def show_lines(lines: list[str]) -> None:
    """Print lines for people."""
    typer.echo("\n".join(lines))


def with_progress(label: str, work: Iterable[T], length: int) -> list[T]:
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
        from finplan.export import as_json as to_json

        show_json(to_json(data()))
    else:
        show_lines(lines())


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


def now() -> datetime:
    """Return this moment: the one place where the clock is read."""
    from datetime import UTC, datetime

    return datetime.now(UTC)


def source_of(file: Path, shop: Path | None, units: UnitsChoice | None, paper: PaperChoice | None = None) -> Source:
    """Return what a command on one piece works on, with a word about what is unlikely."""
    return sources_of([file], shop, units, paper)[0]


def sources_of(
    files: list[Path], shop: Path | None, units: UnitsChoice | None, paper: PaperChoice | None = None
) -> tuple[Source, ...]:
    """Return what a command on several pieces works on, with a word about what is unlikely."""
    from finplan.planning import read_sources

    sources = read_sources(
        files,
        shop,
        units=None if units is None else units.value,
        paper=None if paper is None else paper.value,
    )
    for source in sources:
        warn(source.warnings)
    return sources


def warn(warnings: Iterable[Problem]) -> None:
    """Say on the error stream what is possible but unlikely."""
    for warning in warnings:
        typer.echo(str(warning), err=True)


def checked_treatments(source: Source) -> tuple[Treatment, ...]:
    """Return what every item gets, with a word about what risks to fail."""
    from finplan.planning import risks_of, surface_of, treatments_of

    found = treatments_of(source, surface_of(source))
    warn(risks_of(source, found))
    return found


def checked_pieces(sources: Sequence[Source]) -> tuple[Treated, ...]:
    """Return pieces with what is done to them, with a word about what risks to fail."""
    from finplan.planning import risks_of, treated_pieces

    pieces = treated_pieces(sources)
    for piece in pieces:
        warn(risks_of(piece.source, piece.treatments))
    return pieces


def heads(sources: Sequence[Source]) -> list[str]:
    """Return the pieces and the shop that was assumed."""
    return [*(source.piece.name for source in sources[:-1]), *head(sources[-1])]


def head(source: Source) -> list[str]:
    """Return the piece and the shop that was assumed."""
    return [source.piece.name, _shop_line(source), ""]


def _shop_line(source: Source) -> str:
    from finplan.cli.shop import default_shop_words

    if source.shop_file.document is None:
        return f"No shop file: {default_shop_words()}."
    defaults = source.shop_file.defaults
    taken = f"; from the default shop: {', '.join(defaults)}" if defaults else ""
    return f"Shop: {source.shop.shop}{taken}."


def plan_of(
    sources: Sequence[Source],
    from_: str | None,
    deliver: str | None,
    sure: str = "90 %",
    wishes: Wishes | None = None,
) -> Plan:
    """Return the plan, with a word about what risks to fail."""
    from finplan.planning import Wishes, make_plan

    start, due, confidence = start_of(sources[0], from_), date_of("--deliver", deliver), confidence_of(sure)
    with busy("planning") as say:
        wanted = replace(wishes or Wishes(soonest=now()), progress=say)
        plan = make_plan(sources, now=start, deliver=due, confidence=confidence, wishes=wanted)
    warn(plan.findings)
    return plan


def timetable_together(
    sources: Sequence[Source], start: datetime, deliver: Calendar | None, wishes: Wishes
) -> Timetable:
    """Return the timetable of pieces in one shop, with a word about what risks to fail."""
    from finplan.planning import air_risks, timetable_of

    pieces = checked_pieces(sources)
    deliveries = [deliver or source.piece.deliver for source in sources]
    with busy("planning") as say:
        found = timetable_of(pieces, deliveries, now=start, wishes=replace(wishes, progress=say))
    warn(air_risks(pieces, found))
    return found


def start_of(source: Source, from_: str | None) -> datetime:
    """Return the earliest moment of work: that of --from on the shop's clock, else now."""
    from datetime import UTC, datetime, time

    start = date_of("--from", from_)
    if start is None:
        return now()
    return datetime.combine(start.day, start.clock or time(0), tzinfo=source.shop.time_zone).astimezone(UTC)


def date_of(option: str, text: str | None) -> Calendar | None:
    """Return what an option says as a date, or None where it says nothing."""
    from finplan.reading import Calendar

    if text is None:
        return None
    try:
        return Calendar.parse(text)
    except ValueError as error:
        raise typer.BadParameter(f"{error}; expected 2027-03-12, or '2027-03-12 15:00'", param_hint=option) from None


def confidence_of(text: str) -> float:
    """Return a confidence in per cent as a probability."""
    from finplan.quantity import PERCENTAGE, QuantityError, read

    try:
        value = read(text if "%" in text else f"{text} %", PERCENTAGE)
    except QuantityError as error:
        raise typer.BadParameter(str(error), param_hint="--sure") from None
    if not 50 <= value <= 99.9:
        raise typer.BadParameter(f"{text} is not between 50 % and 99.9 %", param_hint="--sure")
    return value / 100
