"""Writing part tags."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import typer

from finplan.cli.output import refuse_what_does_not_fit, write_page
from finplan.inputs import LEAST, Labels
from finplan.listing import number_of
from finplan.planning import Plan
from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.reading import validate
from finplan.sheet import unprintable
from finplan.tags import sheets_html, tag_sheets


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
    labels = _changed(shop, given) if given else shop
    wrong = labels.too_small(paper)
    if wrong is not None:
        raise typer.BadParameter(f"{wrong}; {LEAST}")
    on_a_sheet = labels.rows * labels.columns
    if first > on_a_sheet:
        raise typer.BadParameter(f"a sheet has {on_a_sheet} labels, there is no label {first}", param_hint="--first")
    return labels


def _changed(shop: Labels, given: Mapping[str, object]) -> Labels:
    kept = {
        "rows": shop.rows,
        "columns": shop.columns,
        "margins": [f"{length} mm" for length in shop.margins_mm],
        "gaps": [f"{length} mm" for length in shop.gaps_mm],
    }
    # Only whether to cut may be said of plain paper without making another sheet of it.
    stated = kept if shop.model_fields_set or set(given) > {"cut-lines"} else {}
    labels, findings = validate(Labels, {**stated, **given})
    if labels is None:
        told = [
            f"{''.join(f'--{step}: ' for step in finding.path[:1])}{finding.wrong}; {finding.expected}"
            for finding in findings
        ]
        raise typer.BadParameter("\n".join(told))
    return labels


def write_tags(plan: Plan, labels: Labels, first: int, output: Path, press: Press | None) -> str:
    """Write the tags of a plan and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        There is nothing to put a tag on, or it cannot be written.
    """
    refuse_what_does_not_fit(plan, output)
    printed = tag_sheets(plan, labels, first)
    if not printed.tags:
        msg = f"{output}: nothing is left to be coated, so there are no tags"
        raise NotPossibleError(msg)
    written = write_page(sheets_html(printed), output, press)
    tags, sheets = number_of(len(printed.tags), "tag"), number_of(len(printed.sheets), "sheet")
    lines = [f"{written}, {tags} on {sheets}; print it at its actual size, 100 %"]
    if printed.next_free > 1 and not labels.cut:
        lines.append(f"Next time the last sheet is gone on with by --first {printed.next_free}.")
    shortened = sum(tag.shortened for tag in printed.tags)
    if shortened:
        lines.append(f"Names are too long for these labels and are shortened on {number_of(shortened, 'tag')}.")
    lacking = unprintable(plan)
    if lacking:
        lines.append(f"The tags' own font lacks {lacking}, which may print as boxes.")
    return "\n".join(lines)
