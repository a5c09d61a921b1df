"""A workshop as it was read, which can be kept between plans: the shop, and the catalogue with its own records."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from finplan.catalogue import Catalogue, bundled_catalogue, overruled, with_own
from finplan.inputs import Shop, ShopFile, default_shop, shop_of, unknown_suppliers, with_prices
from finplan.problems import Problem, RefusedError
from finplan.reading import Written


@dataclass(frozen=True, slots=True)
class Workshop:
    """A shop, and the catalogue with the shop's own values laid over it."""

    shop_file: ShopFile
    """The shop as it was read, with the file that it stands in."""
    catalogue: Catalogue
    """The records, bundled and its own, with its overrides and prices."""

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.shop_file.shop

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.shop.shop!r}>"


def read_workshop(shop: Path | Written | Workshop | None) -> Workshop:
    """Return the workshop in a file or a text; the default one for None.

    Raises
    ------
    RefusedError
        Something is wrong in the shop file or in the shop's own records; carries every problem.
    """
    workshop, _, problems = workshop_and_problems(shop)
    if workshop is None or problems:
        raise RefusedError(problems)
    return workshop


def workshop_and_problems(
    shop: Path | Written | Workshop | None,
) -> tuple[Workshop | None, Catalogue, tuple[Problem, ...]]:
    """Return the workshop, the catalogue with its own records and its overrides, and every problem of its files.

    Where there are problems, the workshop may be None and the catalogue is only good for finding more of them.

    Parameters
    ----------
    shop
        A file, a text, or what was read before; None for the default shop
    """
    if isinstance(shop, Workshop):
        return shop, shop.catalogue, ()
    catalogue = bundled_catalogue()
    if shop is None:
        return Workshop(default_shop(), catalogue), catalogue, ()
    written = Written.of(shop)
    try:
        shop_file = shop_of(written.document(), catalogue, folder=written.folder)
    except RefusedError as error:
        return None, catalogue, error.problems
    catalogue, problems = with_own(catalogue, shop_file.records)
    catalogue, findings = overruled(catalogue, shop_file.shop.overrides)
    catalogue, wrong = with_prices(catalogue, shop_file.shop.prices)
    findings = [finding.within("overrides") for finding in findings] + [finding.within("prices") for finding in wrong]
    findings += [finding.within("suppliers") for finding in unknown_suppliers(shop_file.shop.suppliers, catalogue)]
    if shop_file.document is not None:
        problems += [shop_file.document.problem(finding) for finding in findings]
    return Workshop(shop_file, catalogue), catalogue, tuple(problems)
