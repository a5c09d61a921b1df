"""Which dangers are there, and what brings them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from finplan.catalogue import Catalogue, Finish, Timber
from finplan.catalogue.caution import Trigger
from finplan.safety.solvents import cleaner_of, thinner_of
from finplan.system import Treatment, TreatmentStep

OLD_FILM = "stripped"
"""The surface of what an old coating was taken off: a name in the catalogue's surfaces."""
Note = Callable[[Trigger, str, bool], None]


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What else calls for a caution beside what is put on what."""

    machines: tuple[str, ...] = ()
    """The machines that sand, by title."""
    built: Mapping[str, int | None] = field(default_factory=dict)
    """When pieces that are refinished were built, by the key of their ids."""


def dangers(
    treatments: Iterable[Treatment], catalogue: Catalogue, circumstances: Circumstances | None = None
) -> dict[Trigger, tuple[str, ...]]:
    """Return every danger that is there, with what brings it: finishes, timbers and machines by title."""
    around = circumstances or Circumstances()
    found: dict[Trigger, dict[str, None]] = {"always": {}}

    def note(trigger: Trigger, cause: str, there: bool) -> None:
        if there:
            found.setdefault(trigger, {})[cause] = None

    for treatment in treatments:
        timbers = [catalogue.timbers[name] for name in dict.fromkeys(group.timber for group in treatment.groups)]
        for timber in timbers:
            _note_timber(note, timber)
        for step in treatment.steps:
            note("sanding", "sanding", step.do in ("sand", "abrade", "rub-out"))
            if step.finish is not None:
                _note_coat(note, treatment, step, timbers, catalogue)
        _note_old_film(note, treatment, catalogue, around)
    for machine in around.machines:
        note("machine-sanding", machine, True)
    return {trigger: tuple(causes) for trigger, causes in found.items()}


def _note_timber(note: Note, timber: Timber) -> None:
    note("hardwood-dust", timber.title, timber.dust.hardwood)
    note("allergenic-dust", timber.title, timber.dust.sensitiser > 0)


def _note_coat(
    note: Note, treatment: Treatment, step: TreatmentStep, timbers: Sequence[Timber], catalogue: Catalogue
) -> None:
    finish = catalogue.finishes[step.finish or ""]
    _note_finish(note, finish, timbers, on_bare=step.bare)
    sprayed = step.method is not None and catalogue.methods[step.method].sprayed
    note("spraying", finish.title, sprayed)
    note("spraying-flammable", finish.title, sprayed and finish.hazards.flammable)
    used = [cleaner_of(finish)] + ([thinner_of(finish)] if step.recipe.thin_pct else [])
    for solvent in (catalogue.solvents[name] for name in used if name is not None):
        note("flammable-cleaner", solvent.title, solvent.flammable and not finish.hazards.flammable)
    if is_abraded(treatment, step):
        note("fresh-oil-dust", finish.title, finish.hazards.self_heating)
        reactive = finish.hazards.isocyanate or finish.hazards.acid or finish.drying == "reaction"
        note("reactive-dust", finish.title, reactive)


def is_abraded(treatment: Treatment, coat: TreatmentStep) -> bool:
    """Return whether a coat is abraded, or may have to be: anything that comes over it may find it too hard."""
    later = treatment.steps[treatment.steps.index(coat) + 1 :]
    return any(step.finish is not None or step.do in ("abrade", "rub-out") for step in later)


def _note_finish(note: Note, finish: Finish, timbers: Sequence[Timber], *, on_bare: bool) -> None:
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


def _note_old_film(note: Note, treatment: Treatment, catalogue: Catalogue, around: Circumstances) -> None:
    """Note lead: in a piece so old that it was painted when paint held lead, and under a film of unknown age."""
    until = max(record.until for record in catalogue.old_paint.values())
    built = around.built.get(treatment.key)
    if built is not None:
        note("old-paint", f"built {built}", built < until)
        return
    stripped = any(group.surface == OLD_FILM for group in treatment.groups)
    note("old-paint", f"an old film of unknown age ({treatment.item})", stripped)
