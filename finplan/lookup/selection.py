"""Which records are wanted: of one kind, with some properties, ready within a time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from finplan.catalogue import MODELS, Catalogue
from finplan.lookup.properties import PROPERTIES
from finplan.lookup.readiness import ready_h
from finplan.problems import NotPossibleError, hint, likely

DRYING = ("finishes", "systems")
"""The kinds whose records dry."""


@dataclass(frozen=True, slots=True)
class Selection:
    """What is asked of a list of records; all of it has to hold. Nothing asked is everything."""

    kind: str | None = None
    properties: tuple[str, ...] = ()
    ready_by_h: float | None = None
    """Ready for light use so long after the first coat, by typical times at 23 °C and 50 % humidity."""


def selected(catalogue: Catalogue, wanted: Selection) -> dict[str, dict[str, Any]]:
    """Return the records wanted, by kind and name; kinds of which these things cannot be asked are left out.

    Raises
    ------
    NotPossibleError
        There is no such kind or property, or the properties belong to kinds apart.
    """
    kinds = _kinds(wanted)
    return {
        kind: {
            name: record for name, record in catalogue.kinds()[kind].items() if _fits(kind, record, catalogue, wanted)
        }
        for kind in kinds
    }


def _fits(kind: str, record: Any, catalogue: Catalogue, wanted: Selection) -> bool:
    if not all(PROPERTIES[kind][name](record, catalogue) for name in wanted.properties):
        return False
    if wanted.ready_by_h is None:
        return True
    ready = ready_h(record, catalogue)
    return ready is not None and ready.typical <= wanted.ready_by_h


def _kinds(wanted: Selection) -> list[str]:
    if wanted.kind is not None and wanted.kind not in MODELS:
        msg = f"'{wanted.kind}' is no kind of record; {_hint(wanted.kind, list(MODELS))}"
        raise NotPossibleError(msg)
    kinds = [wanted.kind] if wanted.kind else list(MODELS)
    known = {name for kind in kinds for name in PROPERTIES.get(kind, {})}
    for name in wanted.properties:
        if name not in known:
            raise NotPossibleError(_unknown(name, kinds, sorted(known)))
    able = [kind for kind in kinds if set(wanted.properties) <= set(PROPERTIES.get(kind, {}))]
    if wanted.ready_by_h is not None:
        able = [kind for kind in able if kind in DRYING]
    if not able:
        asked = [f"'{name}'" for name in wanted.properties] + (["'--dry-by'"] if wanted.ready_by_h is not None else [])
        msg = f"{' and '.join(asked)} cannot be asked of {wanted.kind or 'one kind of record together'}; ask for less"
        raise NotPossibleError(msg)
    return able


def _unknown(name: str, kinds: list[str], known: list[str]) -> str:
    elsewhere = [kind for kind, asked in PROPERTIES.items() if name in asked and kind not in kinds]
    if elsewhere:
        wrong = f"'{name}' is asked of {' and '.join(elsewhere)}, not of {kinds[0]}"
        return f"{wrong}; known: {', '.join(known) or 'none'}"
    return f"'{name}' is no property of {kinds[0] if len(kinds) == 1 else 'any record'}; {_hint(name, known)}"


def _hint(name: str, known: list[str]) -> str:
    """Return the nearest known name, and all of them."""
    near = likely(name, known)
    return f"{hint(near, known)} Known: {', '.join(known)}" if near else hint((), known)
