"""A new piece: a starting form and its answers as a file of the folder."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from markupsafe import Markup

from finplan.catalogue import bundled_catalogue
from finplan.drawing import part_drawing
from finplan.forms import Answers, StartingForm, forms, write_piece
from finplan.inputs import Known, piece_from
from finplan.page.in_place import bare
from finplan.page.workbench import View, Workbench
from finplan.problems import FindingsError, FinplanError, NotPossibleError, shown
from finplan.quantity import LENGTH, QuantityError, Units, read_quantity
from finplan.reading import document_of
from finplan.showing import inch_fraction, plain

_NOT_IN_NAME = re.compile(r"[^a-z0-9]+")


class BeginError(FinplanError):
    """A piece that cannot be begun so; says of each question whose answer cannot be taken why."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        self.wrong = dict(wrong)
        super().__init__("; ".join(f"{at}: {words}" for at, words in wrong.items()))

    def elsewhere(self, questions: Collection[str]) -> list[str]:
        """Return what is wrong at none of the questions that are asked."""
        return [f"{at}: {words}" for at, words in self.wrong.items() if at not in questions]


def form_named(name: str) -> StartingForm:
    """Return a starting form.

    Raises
    ------
    BeginError
        There is none of this name.
    """
    starting_form = next((form for form in forms() if form.name == name), None)
    if starting_form is None:
        raise BeginError({"form": f"there is no form {shown(name)} to begin with"})
    return starting_form


@cache
def form_pictures() -> dict[str, Markup]:
    """Return a drawing of the first part of what each form begins with, by the form's name."""
    pictures: dict[str, Markup] = {}
    for form in forms():
        words = write_piece(form, Answers(form.title, form.timber, form.system))
        piece, _ = piece_from(document_of(words, Path("piece.yaml")).data, Known.of(bundled_catalogue()))
        name, part = next(iter(piece.parts.items()))
        pictures[form.name] = bare(part_drawing(name, part, "metric"))
    return pictures


def usual_sizes(form: StartingForm, units: Units) -> dict[str, str]:
    """Return the sizes of a form where nobody says others, as they are typed."""
    return {size.name: _typed(size.usual(units), counts=size.counts, units=units) for size in form.sizes}


def _typed(value: float, *, counts: bool, units: Units) -> str:
    if counts:
        return f"{value:g}"
    return f"{inch_fraction(value)} in" if units == "us" else f"{plain(value, 5)} mm"


def begin(session: Workbench, form: StartingForm, said: Mapping[str, str]) -> tuple[View, bool]:
    """Write the piece file of a form and what is said to its questions, under a name of its own.

    Where the folder has no shop file one is begun with it; returned is whether it was.

    Raises
    ------
    BeginError
        An answer cannot be taken.
    NotPossibleError
        The file cannot be written.
    """
    units: Units = "us" if said.get("units") == "us" else "metric"
    title = " ".join(said.get("title", "").split()) or form.title
    sizes, wrong = _sizes(form, said, units)
    answers = Answers(
        title=title[:200],
        timber=said.get("timber", ""),
        system=said.get("system", ""),
        deliver=said.get("deliver", "").replace("T", " ").strip() or None,
        units=units,
        sizes=sizes,
        customer=" ".join(said.get("customer", "").split())[:200] or None,
    )
    try:
        words = write_piece(form, answers)
    except FindingsError as error:
        refused = {str(finding.path[-1]): f"{finding.wrong}; {finding.expected}" for finding in error.findings}
        # With other sizes the date can still be looked at.
        words, wrong = write_piece(form, replace(answers, sizes={})), {**refused, **wrong}
    errors = [problem for problem in session.reckoned("piece.yaml", words).problems if problem.severity == "error"]
    wrong = {**{problem.where: f"{problem.wrong}; {problem.expected}" for problem in errors}, **wrong}
    if wrong:
        raise BeginError(wrong)
    return _created(session, title, words, units)


def _created(session: Workbench, title: str, words: str, units: Units) -> tuple[View, bool]:
    stem = _NOT_IN_NAME.sub("-", title.lower()).strip("-")[:60] or "piece"
    for number in range(1, 100):
        name = f"{stem}.yaml" if number == 1 else f"{stem}-{number}.yaml"
        if name == "shop.yaml" or (session.folder.path / name).exists():
            continue
        return session.create_with_shop(name, words, units)
    msg = f"there are many files {stem}.yaml already; give the piece another name"
    raise NotPossibleError(msg)


def _sizes(form: StartingForm, said: Mapping[str, str], units: Units) -> tuple[dict[str, float], dict[str, str]]:
    """Return the sizes that are said, and what is wrong with those that cannot be taken."""
    sizes: dict[str, float] = {}
    wrong: dict[str, str] = {}
    for size in form.sizes:
        text = said.get(f"size.{size.name}", "").strip()
        if not text:
            continue
        try:
            if size.counts:
                sizes[size.name] = float(text)
            else:
                sizes[size.name] = read_quantity(text, LENGTH, bare_unit="in" if units == "us" else "mm")
        except QuantityError as error:
            wrong[size.name] = str(error)
        except ValueError:
            wrong[size.name] = f"{shown(text)} is not a number; expected how many there are"
    return sizes, wrong
