"""Shops as tests read them."""

from __future__ import annotations

from pathlib import Path

from finplan.catalogue import Catalogue
from finplan.inputs import ShopFile, shop_of
from finplan.reading import read_document


def load_shop(file: Path, catalogue: Catalogue) -> ShopFile:
    """Return the shop in a file."""
    return shop_of(read_document(file), catalogue, folder=file.parent)
