"""No switch leaves a caution out: what a record may not lose that is laid over a bundled one, or like it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from finplan.catalogue.finish import Finish
from finplan.catalogue.flammability import Flammability
from finplan.catalogue.solvent import Solvent
from finplan.problems import Finding, shown

_OF_SAFETY = (
    "cautions",
    "air-targets",
    "mixing",
    "evaporation",
    "flammability",
    "lifting",
    "exhausts",
    "dust-limits",
    "dust-classes",
    "old-paint",
    "respirators",
    "equipment",
)
"""Kinds of record that a shop may add to and not change."""
_DANGERS: Mapping[str, tuple[str, ...]] = {
    "finishes": (
        *(
            f"hazards.{name}"
            for name in ("self-heating", "flammable", "isocyanate", "sensitiser", "acid", "lime", "powder")
        ),
        "drying",
    ),
    "timbers": ("dust.sensitiser", "dust.hardwood", "sheet.resin"),
    "solvents": ("sensitiser", "flash-point", "lower-flammable-limit"),
    "methods": ("transfer",),
    "sanding-methods": ("by",),
    "extra-steps": ("dangers", "disturbs-film", "not-on-lead"),
}
"""By kind, the fields that say what is dangerous, of which none may become less."""
_WATER = "water"


def safety_findings(kind: str, name: str) -> list[Finding]:
    """Return what is wrong with changing a bundled record of safety; nothing where it is none."""
    if kind not in _OF_SAFETY:
        return []
    return [Finding((), f"{shown(name)} is a record of safety, which no shop changes", "add a record of your own")]


def lost_cautions(kind: str, own: Any, name: str = "", bundled: Any = None) -> list[Finding]:
    """Return a finding for every danger that a shop's own record keeps to itself.

    Parameters
    ----------
    kind
        Of record
    own
        The record, written out, or a bundled one with a shop's values laid over it; None where that is no record
    name
        Of the bundled record
    bundled
        That record itself, no danger of which may become less; None where the own one is written out
    """
    if own is None:
        return []
    findings = [
        Finding(
            tuple(field.split(".")),
            f"this takes away a caution that applies to {shown(name)}",
            "leave it out; what is another product gets a record of its own, written out without 'like'",
        )
        for field in _DANGERS.get(kind, ())
        if bundled is not None and _is_less(_held(own, field), _held(bundled, field))
    ]
    heats = ("hazards", "self-heating")
    if (
        isinstance(own, Finish)
        and own.oxidises
        and not own.hazards.self_heating
        and all(heats != finding.path for finding in findings)
    ):
        wrong, expected = "what dries by oxidation heats by itself", "expected 'self-heating: true'"
        findings.append(Finding(heats, wrong, expected))
    if isinstance(own, Finish) and own.voc_solvent == _WATER and own.voc_g_l.high > 0:
        wrong = "water is no volatile organic compound"
        findings.append(Finding(("voc-solvent",), wrong, "expected what it holds most of, or 'voc: 0 g/l'"))
    return findings


def unsaid_fire(finishes: Mapping[str, Finish], solvents: Mapping[str, Solvent], rule: Flammability) -> list[Finding]:
    """Return a finding for every finish that is said not to burn and holds much of a solvent that does.

    Parameters
    ----------
    finishes
        A shop's own records, or bundled ones with a shop's values laid over them, by name
    solvents
        All that there are
    rule
        From how much of it a finish counts as one that burns
    """
    findings: list[Finding] = []
    for name, finish in finishes.items():
        solvent = solvents.get(finish.voc_solvent or "")
        much = finish.voc_g_l.typical > rule.counts_above_g_l
        if solvent is not None and solvent.burns_cold and much and not finish.hazards.flammable:
            wrong = f"it holds {finish.voc_g_l.typical:.0f} g/l of {solvent.title}, which burns"
            findings.append(Finding((name, "hazards", "flammable"), wrong, "expected 'flammable: true'"))
    return findings


_MEANT: Mapping[str, Callable[[Any], Any]] = {
    "drying": lambda finish: finish.oxidises,
    "flash-point": lambda solvent: solvent.burns_cold,
    "lower-flammable-limit": lambda solvent: 1 / solvent.lower_flammable_limit_pct.low if solvent.flammable else 0.0,
    "transfer": lambda method: method.sprayed,
    "by": lambda way: () if way.by == "hand" else (way.by,),
}
"""What of a field is dangerous, where it is not the field itself."""


def _held(record: Any, field: str) -> Any:
    if field in _MEANT:
        return _MEANT[field](record)
    for step in field.split("."):
        record = getattr(record, step.replace("-", "_"), None)
    return record


def _is_less(own: Any, bundled: Any) -> bool:
    if isinstance(bundled, tuple):
        return not set(bundled) <= set(own)
    return (own or 0) < (bundled or 0)
