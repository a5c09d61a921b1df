"""What can be begun, and what was."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from finplan.data.row import NotNegative, row, row_of
from finplan.forms import Size, StartingForm, forms


@row
class SizeRow:
    """Main size."""

    size: str
    """Its name, as `--size` takes it."""
    title: str
    """What it is, in words."""
    unit: Literal["mm", "number"]
    """What its values are counted in: a length, or how many there are of something."""
    usual: NotNegative
    """What it is where nobody says another, in metric units."""
    usual_us: NotNegative
    """The same in US units: a round number of inches, here in its `unit` too."""
    least: NotNegative
    """The least that the form holds for."""
    most: NotNegative
    """The most that the form holds for."""


@row
class FormRow:
    """Form."""

    form: str
    """Its name, as `--form` takes it."""
    title: str
    """What it is, in words."""
    about: str
    """What it is made of."""
    sizes: tuple[SizeRow, ...]
    """Its main sizes, in the order in which they are asked for."""


@row
class FormsRow:
    """Forms."""

    format: Literal["finplan-forms/1"]
    """Says what this is."""
    forms: tuple[FormRow, ...]
    """What a piece file can be begun from."""


@row
class BegunRow:
    """Begun."""

    format: Literal["finplan-new/1"]
    """Says what this is."""
    written: tuple[str, ...]
    """The files that were written: the piece, and a shop file where there was none beside it."""


def forms_data() -> FormsRow:
    """Return every form with its sizes."""
    return FormsRow(format="finplan-forms/1", forms=tuple(_form(form) for form in forms()))


def begun_data(written: Iterable[Path]) -> BegunRow:
    """Return which files were written."""
    return BegunRow(format="finplan-new/1", written=tuple(str(file) for file in written))


def _form(form: StartingForm) -> FormRow:
    return row_of(FormRow, form, form=form.name, sizes=tuple(_size(size) for size in form.sizes))


def _size(size: Size) -> SizeRow:
    return row_of(
        SizeRow,
        size,
        size=size.name,
        unit="number" if size.counts else "mm",
        usual=size.usual("metric"),
        usual_us=size.usual("us"),
    )
