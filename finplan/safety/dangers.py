"""Which dangers the steps of a treatment bring, from what, and in which work on them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from finplan.catalogue import Catalogue, Finish, Trigger
from finplan.safety.solvents import cleaner_of, thinner_of
from finplan.system import CoatStep, FaceGroup, Treatment, TreatmentStep
from finplan.timetable import Deed

_PUTTING_ON: tuple[Deed, ...] = ("coat", "fill")
_WET: tuple[Deed, ...] = (*_PUTTING_ON, "clean-up")
_BARE_WOOD: tuple[Deed, ...] = ("sand", "joints")
_BESIDE: tuple[Deed, ...] = ("extra",)
_BURNING: tuple[Trigger, ...] = ("flammable", "burning-waste")
_ABRADING: tuple[Deed, ...] = ("abrade", "rub-out")


@dataclass(frozen=True, slots=True)
class Background:
    """What is known of a job beside what is put on what."""

    machines: Mapping[FaceGroup, tuple[str, ...]] = field(default_factory=dict)
    """The machines with which faces are sanded, by title."""
    lathes: Mapping[FaceGroup, tuple[str, ...]] = field(default_factory=dict)
    """The ways in which faces are sanded while they turn on a lathe, by title."""


@dataclass(frozen=True, slots=True)
class Danger:
    """A danger that a step brings, what it comes from by title, and in which deeds of its rows it is there."""

    trigger: Trigger
    cause: str
    deeds: tuple[Deed, ...]
    """None where it is there whatever is done: when the piece is handed over."""


def dangers(
    treatments: Iterable[Treatment], catalogue: Catalogue, background: Background | None = None
) -> dict[Trigger, tuple[str, ...]]:
    """Return every danger of treatments with what brings it, whenever they are done; none that only a plan knows."""
    brought: dict[Trigger, dict[str, None]] = {"always": {}}
    for treatment in treatments:
        for step in treatment.steps:
            for danger in dangers_of(treatment, step, catalogue, background or Background()):
                if danger.deeds != ("abrade-again",):
                    brought.setdefault(danger.trigger, {})[danger.cause] = None
    return {trigger: tuple(causes) for trigger, causes in brought.items()}


def dangers_of(
    treatment: Treatment, step: TreatmentStep, catalogue: Catalogue, background: Background
) -> Iterator[Danger]:
    """Give the dangers of one step."""
    if step.recipe.extra is not None:
        record = catalogue.extra_steps[step.recipe.extra]
        yield from (Danger(trigger, record.title, _BESIDE) for trigger in record.dangers)
        liquids = [catalogue.solvents[name] for name in record.liquids]
        yield from (Danger("vapour", liquid.title, _BESIDE) for liquid in liquids)
        burn_cold = [liquid.title for liquid in liquids if liquid.burns_cold]
        yield from (Danger(trigger, title, _BESIDE) for title in burn_cold for trigger in _BURNING)
        yield from (Danger("sensitiser", liquid.title, _BESIDE) for liquid in liquids if liquid.sensitiser)
        if record.disturbs_film:
            yield from _old_paint(treatment, _BESIDE)
    elif step.do == "sand":
        yield from _sanding(treatment, step, catalogue, background)
        yield from _old_paint(treatment, _BARE_WOOD)
    elif step.do in _ABRADING:
        yield from _abrading(treatment, step, _ABRADING, catalogue)
    elif isinstance(step, CoatStep):
        yield from _coat(treatment, step, catalogue)
        yield from _abrading(treatment, step, ("abrade-again",), catalogue)


def _old_paint(treatment: Treatment, deeds: tuple[Deed, ...]) -> Iterator[Danger]:
    """Give what an old film brings that may hold lead, in work that sets it free."""
    old = treatment.old_paint
    if old is None:
        return
    yield Danger("old-paint", old, deeds)
    if treatment.lead_test is None:
        yield Danger("old-paint-untested", old, ("test", *deeds))
        yield Danger("old-paint-test", old, ("test",))
    else:
        yield Danger("old-paint-found", old, deeds)
    yield Danger("old-paint-clean-up", old, ("wipe-down",))


def _sanding(
    treatment: Treatment, step: TreatmentStep, catalogue: Catalogue, background: Background
) -> Iterator[Danger]:
    yield Danger("sanding", "sanding", _BARE_WOOD)
    machines = dict.fromkeys(machine for group in step.groups for machine in background.machines.get(group, ()))
    for machine in machines:
        yield Danger("machine-sanding", machine, ("sand",))
    for lathe in dict.fromkeys(lathe for group in step.groups for lathe in background.lathes.get(group, ())):
        yield Danger("lathe-sanding", lathe, ("sand",))
    yield from _timber_dust(step.groups, _BARE_WOOD, catalogue)


def _timber_dust(groups: Sequence[FaceGroup], deeds: tuple[Deed, ...], catalogue: Catalogue) -> Iterator[Danger]:
    for timber in (catalogue.timbers[name] for name in dict.fromkeys(group.timber for group in groups)):
        if timber.dust.hardwood:
            yield Danger("hardwood-dust", timber.title, deeds)
        if timber.dust.sensitiser > 0:
            yield Danger("allergenic-dust", timber.title, deeds)
        if timber.sheet is not None and timber.sheet.resin:
            yield Danger("board-dust", timber.title, deeds)


def _abrading(
    treatment: Treatment, step: TreatmentStep, deeds: tuple[Deed, ...], catalogue: Catalogue
) -> Iterator[Danger]:
    yield Danger("sanding", "abrading", deeds)
    below = [earlier.finish for earlier in treatment.steps[: treatment.steps.index(step)] if earlier.finish is not None]
    if not below:
        if treatment.keeps_film:
            yield from _old_paint(treatment, deeds)
        elif treatment.old_paint is not None:
            yield Danger("old-paint-traces", treatment.old_paint, deeds)
        yield from _timber_dust(step.groups, deeds, catalogue)
    for finish in (catalogue.finishes[name] for name in dict.fromkeys(below)):
        hazards = finish.hazards
        if hazards.self_heating:
            yield Danger("fresh-oil-dust", finish.title, deeds)
        if _sets_by_hardener(finish):
            yield Danger("reactive-dust", finish.title, deeds)
        if hazards.lime:
            yield Danger("lime-dust", finish.title, deeds)


def _coat(treatment: Treatment, step: CoatStep, catalogue: Catalogue) -> Iterator[Danger]:
    finish = catalogue.finishes[step.finish]
    hazards = finish.hazards
    sprayed = step.method is not None and catalogue.methods[step.method].sprayed
    thinned = bool(step.recipe.thin_pct)
    there: list[tuple[Trigger, bool, tuple[Deed, ...]]] = [
        ("self-heating", hazards.self_heating, _WET),
        ("flammable", hazards.flammable, _WET),
        # Cloths with isocyanate are shut in no can: of them its own caution speaks.
        ("burning-waste", hazards.flammable and not hazards.isocyanate, _WET),
        ("vapour", gives_off_vapour(finish), _WET),
        ("isocyanate", hazards.isocyanate, _WET),
        ("sensitiser", hazards.sensitiser, _WET),
        ("acid", hazards.acid, _WET),
        ("acid-to-mix", hazards.acid and finish.mix is not None, _WET),
        ("acid-within", hazards.acid and finish.mix is None, _WET),
        ("lime", hazards.lime, _WET),
        ("powder", hazards.powder and finish.bought_dry, _PUTTING_ON),
        # Of isocyanate its own caution speaks: no cartridge mask is named beside it. A gun's rinse is mist as well.
        ("spraying", sprayed and not hazards.isocyanate, _PUTTING_ON if cleaner_of(finish) is None else _WET),
        ("spraying-flammable", sprayed and hazards.flammable, _PUTTING_ON),
        ("oxidising-cure", finish.oxidises and not treatment.keeps_film, ()),
        ("reactive-cure", _sets_by_hardener(finish) and not treatment.keeps_film, ()),
        ("old-film-below", treatment.keeps_film, ()),
    ]
    yield from (Danger(trigger, finish.title, deeds) for trigger, is_so, deeds in there if is_so)
    if not hazards.flammable:
        for name, deeds in (
            (cleaner_of(finish), ("clean-up",)),
            (thinner_of(finish) if thinned else None, _PUTTING_ON),
        ):
            solvent = catalogue.solvents.get(name or "")
            if solvent is not None and solvent.flammable:
                yield Danger("flammable-cleaner", solvent.title, deeds)
    if step.bare:
        for timber in (catalogue.timbers[name] for name in dict.fromkeys(group.timber for group in treatment.groups)):
            if finish.drying == "water" and timber.tannin == "high":
                yield Danger("tannin-and-water", timber.title, _PUTTING_ON)
            if timber.oily:
                yield Danger("oily-timber", timber.title, _PUTTING_ON)


def _sets_by_hardener(finish: Finish) -> bool:
    """Return whether a film sets by a hardener or an acid, of which some is free in it until it has cured."""
    return finish.drying == "reaction" or finish.hazards.isocyanate or finish.hazards.acid


def gives_off_vapour(finish: Finish) -> bool:
    """Return whether a finish, or what cleans its tools, gives off more than water."""
    return finish.voc_g_l.high > 0 or cleaner_of(finish) is not None
