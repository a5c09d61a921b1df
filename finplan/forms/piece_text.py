"""A form and the answers to its questions as the text of a piece file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from finplan.forms.filling import form_text
from finplan.forms.form import StartingForm
from finplan.problems import Finding, FindingsError, did_you_mean
from finplan.quantity import Units


@dataclass(frozen=True, slots=True)
class Answers:
    """What is said of a piece that is begun."""

    title: str
    timber: str
    system: str
    deliver: str | None = None
    """The date, as it is written in a piece file; None where it is not known yet."""
    units: Units = "metric"
    sizes: Mapping[str, float] = field(default_factory=dict)
    """Main sizes by name, in mm, or how many; what is left out is as usual."""
    customer: str | None = None


def write_piece(form: StartingForm, answers: Answers) -> str:
    """Return the text of a piece file, with comments; whether its names are known is for whoever reads it.

    Raises
    ------
    FindingsError
        A size is unknown or out of the form's bounds; the paths begin with ``sizes``.
    """
    findings = list(_wrong(form, answers))
    if findings:
        raise FindingsError(findings)
    sizes = {size.name: answers.sizes.get(size.name, size.usual(answers.units)) for size in form.sizes}
    return form_text(f"{form.name}.yaml", answers.units, form=form, answers=answers, **_as_given(form, sizes))


def _as_given(form: StartingForm, sizes: Mapping[str, float]) -> dict[str, float | int]:
    """Return the sizes as a template takes them: dashes are no part of its names, and numbers are whole."""
    return {
        size.name.replace("-", "_"): int(sizes[size.name]) if size.counts else sizes[size.name] for size in form.sizes
    }


def _wrong(form: StartingForm, answers: Answers) -> Iterator[Finding]:
    for name, value in answers.sizes.items():
        size = form.size(name)
        if size is None:
            hint = did_you_mean(name, [known.name for known in form.sizes])
            yield Finding(("sizes", name), f"a {form.title.lower()} has no size '{name[:40]}'", hint, at_key=True)
        elif (wrong := size.wrong_with(value, answers.units)) is not None:
            yield Finding(("sizes", name), *wrong)
