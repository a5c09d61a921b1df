"""The shop file: reading it over the default shop, and checking it against the catalogue."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from finplan.catalogue import Catalogue, grade_name, grade_sizes, read_own
from finplan.inputs.concerns import concerns_of, unknown_concerns
from finplan.inputs.doubtful_hours import doubtful_hours
from finplan.inputs.doubtful_room import doubtful_rooms
from finplan.inputs.grade import grade_hint
from finplan.inputs.mistaken import refuse_piece
from finplan.inputs.plausible_sizes import Sizes, plausible_sizes
from finplan.inputs.prices import mixed_currencies, money_in
from finplan.inputs.shelf import shelf_findings
from finplan.inputs.shop import RoomUse, Shop
from finplan.problems import Finding, Problem, RefusedError, did_you_mean, shown
from finplan.reading import Document, read_document, validate
from finplan.resources import data_dir


@dataclass(frozen=True)
class ShopFile:
    """What was read: the shop, the fields that the default shop gave, and the files."""

    shop: Shop
    defaults: tuple[str, ...]
    document: Document | None
    records: Mapping[str, Document] = field(default_factory=dict)
    """The files of the shop's own records, by kind."""
    doubts: tuple[Problem, ...] = ()
    """What is possible but unlikely in it; nothing of the default shop."""


@cache
def default_shop_fields() -> Mapping[str, Any]:
    """Return the fields of the default shop, as they stand in its file."""
    return MappingProxyType(read_document(data_dir("catalogue") / "default-shop.yaml").data)


@cache
def default_shop() -> ShopFile:
    """Return the shop that is taken where none is named."""
    fields = default_shop_fields()
    shop, findings = validate(Shop, dict(fields))
    if shop is None:
        msg = f"the default shop is broken: {findings}"
        raise AssertionError(msg)
    return ShopFile(shop, tuple(name for name in fields if name != "shop"), None)


def shop_of(document: Document, catalogue: Catalogue, *, folder: Path | None) -> ShopFile:
    """Return the shop in a document; what it leaves out is taken from the default shop.

    Parameters
    ----------
    document
        What a shop file says
    catalogue
        What is known without it
    folder
        Where the files that it names lie; without one it may name none

    Raises
    ------
    RefusedError
        Something in it is wrong; carries every problem.
    """
    refuse_piece(document)
    fields = default_shop_fields()
    given = document.data
    laid = {**fields, **given}
    methods, grits = {**catalogue.methods, **catalogue.sanding_methods}, grade_sizes(catalogue)
    context = {"folder": folder, "time-zone": laid["time-zone"], "grades": grits}
    shop, findings = validate(Shop, laid, more=context)
    findings = [finding for finding in findings if finding.path[:1] != ("shop",) or "shop" in given]
    if "shop" not in given:
        findings.append(Finding(("shop",), "field 'shop' is missing", "expected the name of the workshop"))
    problems: list[Problem] = []
    records: dict[str, Document] = {}
    if shop is not None:
        try:
            records = read_own(shop.records) if shop.records else {}
        except RefusedError as error:
            problems += error.problems
        own_methods = {
            name for kind in ("methods", "sanding-methods") if kind in records for name in records[kind].data
        }
        findings += _unknown(shop.methods, "methods", {*methods, *own_methods})
        findings += _unknown(shop.grits, "grits", grits) + _rooms(shop) + _people(shop)
        findings += unknown_concerns(shop.accept, concerns_of(catalogue))
        findings += mixed_currencies(list(money_in(shop.rates, shop.prices)), None)
        if shop.shelf:
            findings += shelf_findings(shop.shelf, _records_by_kind(catalogue, records, shop.overrides))
    else:
        findings += _unknown_at_once(given, {"methods": methods, "grits": grits})
    problems += [document.problem(finding) for finding in findings]
    if shop is None or problems:
        raise RefusedError(problems)
    doubts = tuple(document.problem(finding) for finding in _doubts(shop, given, plausible_sizes(catalogue.files)))
    return ShopFile(shop, tuple(name for name in fields if name not in given), document, records, doubts)


def _doubts(shop: Shop, given: Mapping[str, Any], sizes: Sizes) -> Iterator[Finding]:
    volumes = {name: room.volume_ml for name, room in shop.rooms.items()}
    yield from doubtful_hours(given, sizes.hours)
    yield from doubtful_rooms(volumes, shop.climate, least_ml=sizes.room.least_ml)


def _records_by_kind(
    catalogue: Catalogue, own: Mapping[str, Document], overrides: Mapping[str, Any]
) -> dict[str, dict[str, Any]]:
    """Return what may be named, by kind: bundled records; the shop's own, and mixes that it overrules, as written."""
    records = catalogue.kinds_with({kind: document.data for kind, document in own.items()})
    finishes = overrides.get("finishes", {})
    for name, fields in finishes.items() if isinstance(finishes, dict) else ():
        if name in records["finishes"] and isinstance(fields, dict) and "mix" in fields:
            records["finishes"][name] = fields
    return records


def _unknown_at_once(given: Mapping[str, Any], known: Mapping[str, Collection[str]]) -> list[Finding]:
    """Return the unknown names of a shop that has other errors too, as far as they can be told."""
    if "records" in given:
        return []
    lists = {key: given[key] for key in known if isinstance(given.get(key), list)}
    lists["grits"] = [grade_name(grit) or grit for grit in lists.get("grits", [])]
    return [
        finding
        for key, names in lists.items()
        for finding in _unknown(tuple(name for name in names if isinstance(name, str)), key, known[key])
    ]


def _unknown(names: tuple[str, ...], where: str, known: Collection[str]) -> list[Finding]:
    hint = grade_hint if where == "grits" else did_you_mean
    return [
        Finding((where, index), f"{shown(name)} is not in the catalogue", hint(name, known))
        for index, name in enumerate(names)
        if name not in known
    ]


def _people(shop: Shop) -> list[Finding]:
    names = [person.name for person in shop.people]
    return [
        Finding(("people", index, "name"), f"{shown(name)} is named twice", "give each person a name of their own")
        for index, name in enumerate(names)
        if name in names[:index]
    ]


def _rooms(shop: Shop) -> list[Finding]:
    uses: tuple[RoomUse, ...] = ("sanding", "coating", "drying")
    return [
        Finding(("rooms",), f"no room is for {use}", f"add {use} to the 'for' of a room")
        for use in uses
        if shop.room_for(use) is None
    ]
