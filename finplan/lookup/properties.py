"""What may be asked of the records when they are listed: food-contact, waterborne, no-isocyanate, oily."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from finplan.catalogue import Catalogue, Finish, System

Ask = Callable[[Any, Catalogue], bool]
GOOD = 4
"""A rating from which on a system is called resistant, of 5."""


def _every(of: Callable[[Finish], bool]) -> Ask:
    """Return whether all finishes of a system are so."""

    def ask(system: System, catalogue: Catalogue) -> bool:
        return all(of(catalogue.finishes[name]) for name in system.finishes())

    return ask


def _some(of: Callable[[Finish], bool]) -> Ask:
    """Return whether any finish of a system is so."""

    def ask(system: System, catalogue: Catalogue) -> bool:
        return any(of(catalogue.finishes[name]) for name in system.finishes())

    return ask


def _plain(of: Callable[[Any], bool]) -> Ask:
    return lambda record, _catalogue: of(record)


def _form(name: str) -> Ask:
    return _plain(lambda abrasive: abrasive.form == name)


def _use(name: str) -> Ask:
    return _plain(lambda consumable: name in consumable.used_for)


def _family(name: str) -> Callable[[Finish], bool]:
    return lambda finish: finish.family == name


_ALL_OF_A_SYSTEM: dict[str, Callable[[Finish], bool]] = {
    "food-contact": lambda finish: "food" in finish.contact,
    "child-contact": lambda finish: "child" in finish.contact,
    "waterborne": lambda finish: finish.drying == "water",
    "penetrating": lambda finish: finish.absorbed,
    "no-isocyanate": lambda finish: not finish.hazards.isocyanate,
    "no-sensitiser": lambda finish: not finish.hazards.sensitiser,
    "no-acid": lambda finish: not finish.hazards.acid,
    "no-rags": lambda finish: not finish.hazards.self_heating,
    "no-flammable-vapour": lambda finish: not finish.hazards.flammable,
    "no-grain-raising": lambda finish: not finish.raises_grain,
    "one-part": lambda finish: finish.mix is None,
}
"""Of a finish; of a system where it holds for every finish in it. ``no-rags``: its cloths do not heat by themselves."""

_SOME_OF_A_SYSTEM: dict[str, Callable[[Finish], bool]] = {
    "film": lambda finish: finish.film_forming,
    "oil": _family("oil"),
    "varnish": _family("varnish"),
    "shellac": _family("shellac"),
    "lacquer": _family("lacquer"),
    "wax": _family("wax"),
    "soap": _family("soap"),
    "enamel": _family("enamel"),
    "stain": _family("stain"),
    "dye": _family("dye"),
    "primer": _family("primer"),
    "sealer": _family("sealer"),
    "filler": _family("filler"),
    "two-part": lambda finish: finish.mix is not None,
    "dissolved": lambda finish: finish.bought_dry,
}
"""Of a finish; of a system where it holds for any finish in it."""

PROPERTIES: Mapping[str, Mapping[str, Ask]] = {
    "finishes": {name: _plain(of) for name, of in (_ALL_OF_A_SYSTEM | _SOME_OF_A_SYSTEM).items()}
    | {
        "by-hand": lambda finish, catalogue: any(not catalogue.methods[name].sprayed for name in finish.methods),
        "by-spray": lambda finish, catalogue: any(catalogue.methods[name].sprayed for name in finish.methods),
    },
    "systems": {name: _every(of) for name, of in _ALL_OF_A_SYSTEM.items()}
    | {name: _some(of) for name, of in _SOME_OF_A_SYSTEM.items()}
    | {
        "clear": _plain(lambda system: not system.opaque),
        "opaque": _plain(lambda system: system.opaque),
        "resists-water": _plain(lambda system: system.ratings.water >= GOOD),
        "resists-heat": _plain(lambda system: system.ratings.heat >= GOOD),
        "resists-wear": _plain(lambda system: system.ratings.wear >= GOOD),
        "easily-mended": _plain(lambda system: system.ratings.repair >= GOOD),
    },
    "timbers": {
        "open-pored": _plain(lambda timber: timber.open_pored),
        "closed-pored": _plain(lambda timber: timber.pores == "diffuse-porous" and not timber.large_pores),
        "ring-porous": _plain(lambda timber: timber.pores == "ring-porous"),
        "softwood": _plain(lambda timber: timber.pores == "softwood"),
        "hardwood": _plain(lambda timber: timber.pores != "softwood"),
        "tannin": _plain(lambda timber: timber.tannin in ("medium", "high")),
        "oily": _plain(lambda timber: timber.oily),
        "blotches": _plain(lambda timber: timber.blotches),
        "resinous": _plain(lambda timber: timber.resinous),
        "wants-filler": _plain(lambda timber: timber.filler_for_flat),
        "allergenic-dust": _plain(lambda timber: timber.dust.sensitiser > 0),
    },
    "solvents": {
        "no-flammable-vapour": _plain(lambda solvent: not solvent.flammable),
        "skin": _plain(lambda solvent: solvent.limits is not None and solvent.limits.skin),
        "sensitiser": _plain(lambda solvent: solvent.sensitiser),
    },
    "abrasives": {name: _form(name) for name in ("disc", "sheet", "pad", "roll", "wool")},
    "consumables": {name: _use(name) for name in ("applying", "wiping", "mixing", "protecting", "waste")},
}
"""By kind, what may be asked of its records, by the name it goes by on the command line."""
