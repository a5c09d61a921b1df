"""The catalogue for a person and for programs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from finplan.catalogue import Catalogue, bundled_catalogue, overruled
from finplan.catalogue.show import listing_json, listing_lines, record_json, record_lines
from finplan.inputs import load_shop
from finplan.problems import NotPossibleError, RefusedError, did_you_mean
from finplan.quantity import Units


def catalogue_of(shop: Path | None) -> Catalogue:
    """Return the catalogue as this shop has it.

    Raises
    ------
    RefusedError
        The shop file is wrong.
    """
    catalogue = bundled_catalogue()
    if shop is None:
        return catalogue
    known = {**catalogue.methods, **catalogue.sanding_methods}
    shop_file = load_shop(shop, methods=known, grits=catalogue.grades["p-grade"].sizes_um)
    catalogue, findings = overruled(catalogue, shop_file.shop.overrides)
    if findings and shop_file.document is not None:
        raise RefusedError([shop_file.document.problem(finding.within("overrides")) for finding in findings])
    return catalogue


def _found(catalogue: Catalogue, name: str) -> list[tuple[str, Any]]:
    found = catalogue.find(name)
    if not found:
        names = sorted({known for records in catalogue.kinds().values() for known in records})
        hint = did_you_mean(name, names)
        if hint.startswith("known"):
            hint = "'finplan catalogue' lists everything"
        msg = f"'{name}' is not in the catalogue; {hint}"
        raise NotPossibleError(msg)
    return found


def catalogue_lines(catalogue: Catalogue, name: str | None, units: Units) -> list[str]:
    """Return the list of everything, or the records called *name*."""
    if name is None:
        return listing_lines(catalogue)
    lines: list[str] = []
    for kind, record in _found(catalogue, name):
        lines += ["", *record_lines(kind, name, record, catalogue, units)]
    return lines[1:]


def catalogue_data(catalogue: Catalogue, name: str | None) -> dict[str, Any]:
    """Return the same as plain data."""
    if name is None:
        return listing_json(catalogue)
    records = [record_json(kind, name, record, catalogue) for kind, record in _found(catalogue, name)]
    return {"format": "finplan-catalogue/1", "records": records}
