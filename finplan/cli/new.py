"""A piece or a workshop begun: from its answers to the files that are written, and what to do next."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from finplan.cli.areas import areas_lines
from finplan.cli.asking import AnswerError, Questions
from finplan.cli.common import warn
from finplan.cli.demo import program_name
from finplan.cli.piece_asking import (
    answered_sizes,
    form_question,
    name_question,
    read_date,
    read_form,
    read_name,
    read_words,
)
from finplan.cli.shop_asking import UNITS_QUESTION, ShopGiven, read_units, shop_text
from finplan.forms import Answers, StartingForm, forms, write_piece
from finplan.place import SHOP
from finplan.planning import PlannedPiece, Workshop, read_sources, read_workshop, together
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.reading import Written
from finplan.whole_file import write_new


@dataclass(frozen=True)
class Given:
    """What the options say of a piece that is begun."""

    form: str | None = None
    sizes: Sequence[str] = ()
    title: str | None = None
    customer: str | None = None
    timber: str | None = None
    system: str | None = None
    deliver: str | None = None

    @property
    def is_whole(self) -> bool:
        """Whether it says all that has no usual answer."""
        return None not in (self.form, self.timber, self.system, self.deliver)


@dataclass(frozen=True)
class Begun:
    """What was written, and what to say of it."""

    written: tuple[Path, ...]
    lines: tuple[str, ...]


def form_lines() -> list[str]:
    """Return the forms with their sizes, for a person."""
    lines = ["What a piece file can be begun from, with its main sizes, the usual ones and the bounds:"]
    for form in forms():
        lines += ["", f"{form.name}: {form.about}"]
        for size in form.sizes:
            usual = [size.shown(size.usual("metric"), "metric")]
            usual += [] if size.counts else [size.shown(size.usual("us"), "us")]
            bounds = f"{size.shown(size.least, 'metric')} to {size.shown(size.most, 'metric')}"
            lines.append(f"  {size.name:<11}  {size.title}: {' or '.join(usual)}; {bounds}")
    example = "new stool.yaml --form stool --size height=520 --timber ash --system hardwax-oil --deliver 2027-06-18"
    return [*lines, "", "For example:", "", f"  {program_name()} {example}"]


def begin_piece(file: Path | None, given: Given, of_shop: ShopGiven, asks: bool, now: datetime) -> Begun:
    """Write a piece file, and a shop file beside it where there is none; both, or nothing.

    Parameters
    ----------
    file
        What to write; asked for, where it is not named
    given, of_shop
        What the options say
    asks
        Whether what has no answer yet can be asked for
    now
        The moment; a delivery is later

    Raises
    ------
    NotPossibleError
        An answer is missing or cannot be had, or a file is there already or cannot be written.
    RefusedError
        The shop file that is there is wrong.
    """
    questions = Questions(asks and not (file and given.is_whole))
    if file is not None:
        _refuse_what_is_there(file)
    form = questions.answer("--form", form_question(), given.form, read_form, example="--form round-table")
    if file is None:
        usual = f"{form.name}.yaml" if form and questions.asks else None
        file = questions.answer("FILE", "File to write", None, _new_file, usual=usual)
    beside = (file.parent if file else Path()) / SHOP
    new_shop = None if beside.exists() else _new_shop(of_shop, questions)
    workshop = read_workshop(beside if new_shop is None else Written(beside, new_shop))
    units = of_shop.units or workshop.shop.units
    words = form.title if form else "Piece"
    title = questions.answer("--title", "Its name, as printed on the sheet", given.title, read_words, usual=words)
    sizes = answered_sizes(form, given.sizes, questions, units)
    known = workshop.catalogue
    question = name_question("Timbers", known.timbers, "Timber")
    timber = questions.answer("--timber", question, given.timber, read_name(known.timbers), example="--timber ash")
    question = name_question("Coating systems", known.systems, "System")
    goes = _read_system(form, sizes, timber, units, workshop)
    system = questions.answer("--system", question, given.system, goes, example="--system hardwax-oil")
    due = read_date(now, workshop)
    example = "--deliver 2027-06-18"
    deliver = questions.answer("--deliver", "Day of delivery, such as 2027-06-18", given.deliver, due, example=example)
    questions.complete(f"'{program_name()} new --forms' lists what can be begun")
    if form is None or file is None or title is None or timber is None or system is None:
        raise AssertionError  # it has been told that they are missing
    text = write_piece(form, Answers(title, timber, system, deliver, units, sizes, given.customer))
    piece = _planned(file, text, workshop)
    warn([piece], (*piece.source.warnings, *piece.risks))
    written = _write(file, text, beside, new_shop)
    return Begun(written, tuple(_said(written, piece)))


def _new_shop(given: ShopGiven, questions: Questions) -> str:
    """Return the text of the shop file that comes with a piece; of its questions only the one of units is asked."""
    units = questions.answer("--units", UNITS_QUESTION, given.units, read_units, usual="metric")
    return shop_text(replace(given, title=None, units=units))


def begin_shop(file: Path, given: ShopGiven, asks: bool) -> Begun:
    """Write a shop file; raises as ``begin_piece``."""
    _refuse_what_is_there(file)
    text = shop_text(given, Questions(asks and given.is_empty))
    read_workshop(Written(file, text))
    _write(file, text, file, None)
    name = "It is taken for every piece beside it." if file.name == SHOP else f"Name it with --shop {_quoted(file)}."
    return Begun((file,), (f"{file}: written", "", name, f"'{program_name()} fields shop' explains all of it."))


def _new_file(text: str) -> Path:
    file = Path(text if text.endswith((".yaml", ".yml")) else f"{text}.yaml")
    try:
        _refuse_what_is_there(file)
    except NotPossibleError as error:
        raise AnswerError(str(error)) from None
    return file


def _read_system(
    form: StartingForm | None, sizes: Mapping[str, float], timber: str | None, units: Units, workshop: Workshop
) -> Callable[[str], str]:
    """Return what reads a system: one that goes on this piece and timber, in this shop."""
    known = read_name(workshop.catalogue.systems)

    def goes(text: str) -> str:
        system = known(text)
        if form is None or timber is None:
            return system
        trial = write_piece(form, Answers("A piece", timber, system, None, units, sizes))
        for clash in _planned(Path("trial"), trial, workshop).clashes_anywhere:
            if clash.severity == "error":
                msg = f"{system} does not go here: {clash.wrong}; {clash.expected}"
                raise AnswerError(msg)
        return system

    return goes


def _planned(file: Path, text: str, workshop: Workshop) -> PlannedPiece:
    return together(read_sources([Written(file, text)], workshop))[0]


def _refuse_what_is_there(file: Path) -> None:
    try:
        there = file.exists() or file.is_symlink()
    except (OSError, ValueError):
        return  # no such name can be had: told where it is written
    if there:
        msg = f"{file}: is there already, and nothing is written over; choose another name"
        raise NotPossibleError(msg)


def _write(file: Path, text: str, shop: Path, shop_text: str | None) -> tuple[Path, ...]:
    """Write a file that is new and, where its text is given, the shop beside it: both, or none."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        msg = f"{file.parent}: cannot be made: {str(getattr(error, 'strerror', None) or error).lower()}"
        raise NotPossibleError(msg) from None
    if not write_new(text.encode(), file):
        _refuse_what_is_there(file)
    if shop_text is None:
        return (file,)
    try:
        made = write_new(shop_text.encode(), shop)
    except BaseException:
        file.unlink(missing_ok=True)
        raise
    return (file, shop) if made else (file,)


def _said(written: Sequence[Path], piece: PlannedPiece) -> list[str]:
    file, *shop = written
    program, name = program_name(), _quoted(file)
    shapes = ", ".join(dict.fromkeys(part.shape for part in piece.source.piece.parts.values()))
    return [
        f"{file}: written",
        *(f"{path}: written, with usual hours, air and tools: put in yours" for path in shop),
        "",
        *areas_lines(piece.surface, piece.source.units),
        "",
        f"Open {file} in an editor, put in the sizes of your piece, and try:",
        "",
        f"  {program} check {name}",
        f"  {program} areas {name}",
        f"  {program} systems {name}",
        f"  {program} materials {name}",
        f"  {program} timetable {name}",
        f"  {program} sheet {name} -o {_quoted(file.with_suffix('.pdf'))}",
        "",
        f"'{program} fields' explains all that may be written; its shapes are {shapes}.",
    ]


def _quoted(file: Path) -> str:
    return shlex.quote(str(file))
