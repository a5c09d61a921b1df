"""Where a workshop is: its shop file and its record, beside the pieces."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

SHOP, LEDGER = "shop.yaml", "finplan.ledger"


def shop_beside(files: Sequence[Path], shop: Path | None) -> Path | None:
    """Return the shop file: the one that is named, else the one beside the first piece; None where there is none."""
    if shop is not None:
        return shop
    beside = files[0].parent / SHOP
    return beside if _is_there(beside) else None


def ledger_beside(files: Sequence[Path], ledger: Path | None) -> Path | None:
    """Return the record: the one that is named, else the one of the folder of the first piece.

    A folder is a workshop where its shop file or a record is there; elsewhere there is none, and none is begun.
    """
    if ledger is not None:
        return ledger
    folder = files[0].parent
    return folder / LEDGER if _is_there(folder / SHOP) or _is_there(folder / LEDGER) else None


def names_from(files: Sequence[Path], ledger: Path) -> tuple[str, ...]:
    """Return piece files as they are seen from a record, so that they mean the same from wherever they are named."""
    folder = ledger.absolute().parent.resolve()
    names = []
    for file in files:
        whole = file.absolute().resolve()
        names.append(whole.relative_to(folder).as_posix() if whole.is_relative_to(folder) else whole.as_posix())
    return tuple(names)


def _is_there(file: Path) -> bool:
    try:
        return file.is_file()
    except (OSError, ValueError):
        return False
