"""The file of a logger that tells of the air of the shop."""

from __future__ import annotations

from pathlib import Path

from finplan.inputs import MAX_LOG_BYTES
from finplan.problems import NotPossibleError, shown
from finplan.reading import UnreadableError, read_bytes


def log_text(name: str) -> str:
    """Return the text of the file that is named.

    Raises
    ------
    NotPossibleError
        It cannot be read.
    """
    try:
        return read_bytes(Path(name), MAX_LOG_BYTES).decode("utf-8-sig")
    except (UnreadableError, UnicodeDecodeError) as error:
        msg = f"--air {shown(name)}: {error}; expected the file of a logger"
        raise NotPossibleError(msg) from None
