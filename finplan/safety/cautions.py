"""Which cautions a plan needs: those whose danger is there, and no others."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Finish, Timber
from finplan.catalogue.caution import Moment, Trigger
from finplan.system import Treatment

Note = Callable[[Trigger, str, bool], None]


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution to print, with what in this plan calls for it. ``source`` is a key of the catalogue's sources."""

    code: str
    when: Moment
    rank: int
    title: str
    text: str
    reason: str
    source: str
    because: tuple[str, ...]


def cautions(treatments: Iterable[Treatment], catalogue: Catalogue) -> tuple[CautionLine, ...]:
    """Return the cautions that apply, the worst danger first; nothing can switch one off."""
    present = dangers(treatments, catalogue)
    lines = [
        CautionLine(
            code=code,
            when=caution.when,
            rank=caution.rank,
            title=caution.title,
            text=caution.text,
            reason=caution.reason,
            source=caution.basis,
            because=tuple(dict.fromkeys(cause for trigger in caution.applies for cause in present.get(trigger, ()))),
        )
        for code, caution in catalogue.cautions.items()
        if any(trigger in present for trigger in caution.applies)
    ]
    return tuple(sorted(lines, key=lambda line: line.rank))


def dangers(treatments: Iterable[Treatment], catalogue: Catalogue) -> dict[Trigger, tuple[str, ...]]:
    """Return every danger that is there, with what brings it: finishes and timbers by title."""
    found: dict[Trigger, dict[str, None]] = {"always": {}}

    def note(trigger: Trigger, cause: str, there: bool) -> None:
        if there:
            found.setdefault(trigger, {})[cause] = None

    for treatment in treatments:
        timbers = {name: catalogue.timbers[name] for name in dict.fromkeys(group.timber for group in treatment.groups)}
        for timber in timbers.values():
            _note_timber(note, timber)
        for step in treatment.steps:
            note("sanding", "sanding", step.do in ("sand", "abrade", "rub-out"))
            if step.finish is None:
                continue
            finish = catalogue.finishes[step.finish]
            _note_finish(note, finish, list(timbers.values()), on_bare=step.bare)
            sprayed = step.method is not None and catalogue.methods[step.method].sprayed
            note("spraying", finish.title, sprayed)
    return {trigger: tuple(causes) for trigger, causes in found.items()}


def _note_timber(note: Note, timber: Timber) -> None:
    note("hardwood-dust", timber.title, timber.dust.hardwood)
    note("allergenic-dust", timber.title, timber.dust.sensitiser > 0)


def _note_finish(note: Note, finish: Finish, timbers: list[Timber], *, on_bare: bool) -> None:
    hazards = finish.hazards
    note("self-heating", finish.title, hazards.self_heating)
    note("flammable", finish.title, hazards.flammable)
    note("isocyanate", finish.title, hazards.isocyanate)
    note("sensitiser", finish.title, hazards.sensitiser)
    note("acid", finish.title, hazards.acid)
    note("oxidising-cure", finish.title, finish.drying == "oxidation")
    for timber in timbers:
        note("tannin-and-water", timber.title, on_bare and finish.drying == "water" and timber.tannin == "high")
        note("oily-timber", timber.title, on_bare and timber.oily)
