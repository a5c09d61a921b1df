"""Writing a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from finplan.problems import NotPossibleError


def write_whole(data: bytes, target: Path) -> None:
    """Write *data* beside *target* and then put it in its place; a file that is there is replaced.

    Raises
    ------
    NotPossibleError
        *target* cannot be written.
    """
    part = target.with_name(f".{target.name[:40]}-{os.getpid()}.part")
    try:
        try:
            part.write_bytes(data)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        msg = f"{target}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from error
