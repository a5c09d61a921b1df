"""What is asked about a piece that is begun, and what reads the answers."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from finplan.cli.asking import AnswerError, Questions
from finplan.forms import Size, StartingForm, forms
from finplan.planning import WishError, Workshop, date_of
from finplan.problems import did_you_mean
from finplan.quantity import LENGTH, Units, read_quantity

_WIDTH = 100


def form_question() -> str:
    """Return the question for a form, with all there are."""
    width = max(len(form.name) for form in forms())
    lines = [f"  {number:>2}  {form.name:<{width}}  {form.about}" for number, form in enumerate(forms(), start=1)]
    return "\n".join(["What do you want to finish?", "", *lines, "", "Its number or name"])


def name_question(kinds: str, names: Mapping[str, object], question: str) -> str:
    """Return the question for a name of the catalogue, with all there are."""
    known = textwrap.fill(f"{kinds}: {', '.join(names)}", _WIDTH, subsequent_indent="  ", break_on_hyphens=False)
    return f"\n{known}\n{question}"


def read_form(text: str) -> StartingForm:
    """Read a form by its name, its title, or its number in the question."""
    known = forms()
    if text.isdecimal() and 1 <= int(text) <= len(known):
        return known[int(text) - 1]
    starting_form = next((form for form in known if text.casefold() in (form.name, form.title.casefold())), None)
    if starting_form is None:
        msg = f"'{text[:40]}' is no form; {did_you_mean(text, [form.name for form in known])}"
        raise AnswerError(msg)
    return starting_form


def read_name(names: Mapping[str, object]) -> Callable[[str], str]:
    """Return what reads a name of the catalogue."""

    def known(text: str) -> str:
        name = text.casefold().replace(" ", "-")
        if name not in names:
            msg = f"'{text[:40]}' is not in the catalogue; {did_you_mean(name, names)}"
            raise AnswerError(msg)
        return name

    return known


def read_words(text: str) -> str:
    """Read a few words."""
    if not text.strip():
        msg = "nothing is said; expected a few words"
        raise AnswerError(msg)
    return text


def read_date(now: datetime, workshop: Workshop) -> Callable[[str], str]:
    """Return what reads a date that is still to come."""

    def to_come(text: str) -> str:
        try:
            given = date_of("deliver", text)
        except WishError as error:
            raise AnswerError(str(error)) from None
        if given.day < now.astimezone(workshop.shop.time_zone).date():
            msg = f"{given} is over; expected a day to come"
            raise AnswerError(msg)
        return str(given)

    return to_come


def answered_sizes(
    form: StartingForm | None, given: Sequence[str], questions: Questions, units: Units
) -> dict[str, float]:
    """Return the sizes of a form: as given, asked for, or usual."""
    named = {name.strip(): value.strip() for name, _, value in (text.partition("=") for text in given)}
    if form is None:
        return {}
    sizes: dict[str, float] = {}
    for size in form.sizes:
        usual = size.shown(size.usual(units), units)
        option = f"--size {size.name}"
        value = questions.answer(option, size.title, named.pop(size.name, None), _read_size(size, units), usual=usual)
        if value is not None:
            sizes[size.name] = value
    for name in named:
        hint = did_you_mean(name, [size.name for size in form.sizes])
        questions.refuse(f"--size: '{name[:40]}' is no size of the form {form.name}; {hint}")
    return sizes


def _read_size(size: Size, units: Units) -> Callable[[str], float]:
    bare = "mm" if units == "metric" else "in"

    def within(text: str) -> float:
        try:
            value = float(text) if size.counts else read_quantity(text, LENGTH, bare_unit=bare)
        except ValueError as error:
            told = f"'{text[:40]}' is not a number" if size.counts else str(error)
            raise AnswerError(told) from None
        wrong = size.wrong_with(value, units)
        if wrong is not None:
            raise AnswerError("; ".join(wrong))
        return value

    return within
