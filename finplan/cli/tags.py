"""Writing part tags."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import typer

from finplan.cli.output import refuse_what_does_not_fit
from finplan.cli.sheet import write_page
from finplan.inputs.labels import Labels
from finplan.plan import Plan
from finplan.press import Press
from finplan.reading import validate
from finplan.sheet import tags_html


def lengths_of(text: str | None) -> list[str] | None:
    """Return lengths as a list, or None where nothing is said.

    >>> lengths_of("15 mm, 7 mm"), lengths_of("1/2 in"), lengths_of(None)
    (['15 mm', '7 mm'], ['1/2 in'], None)
    """
    return None if text is None else [length.strip() for length in text.split(",")]


def labels_of(shop: Labels, paper: str, options: Mapping[str, object], first: int) -> Labels:
    """Return the sheet of labels that options describe; what they leave out is the shop's.

    Parameters
    ----------
    shop
        What the shop file says
    paper
        What it is printed on
    options
        Fields as the shop file has them, None where the command line says nothing
    first
        The first free label of the sheet

    Raises
    ------
    typer.BadParameter
        There are no such labels, or not so many.
    """
    given = {name: value for name, value in options.items() if value is not None}
    if given:
        kept = {
            "rows": shop.rows,
            "columns": shop.columns,
            "margins": [f"{length} mm" for length in shop.margins_mm],
            "gaps": [f"{length} mm" for length in shop.gaps_mm],
        }
        labels, findings = validate(Labels, {**kept, "cut-lines": False, **given})
        if labels is None:
            told = "; ".join(f"{'.'.join(map(str, one.path))}: {one.wrong}; {one.expected}" for one in findings)
            raise typer.BadParameter(told.removeprefix(": "))
    else:
        labels = shop
    wrong = labels.too_small(paper)
    if wrong is not None:
        raise typer.BadParameter(f"{wrong}; a tag needs more: fewer rows or columns, or another --paper")
    on_a_sheet = labels.rows * labels.columns
    if first > on_a_sheet:
        raise typer.BadParameter(f"a sheet has {on_a_sheet} labels, there is no label {first}", param_hint="--first")
    return labels


def write_tags(plan: Plan, labels: Labels, first: int, output: Path, press: Press | None) -> str:
    """Write the tags of a plan and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        It cannot be written.
    """
    refuse_what_does_not_fit(plan, output)
    return write_page(tags_html(plan, labels, first), output, press)
