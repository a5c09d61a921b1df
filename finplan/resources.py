"""Where the bundled data folders are, however the program was installed."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Literal

_PACKAGE = Path(__file__).resolve().parent


@cache
def data_dir(kind: Literal["templates", "catalogue"]) -> Path:
    """Return the folder of bundled *kind*.

    Parameters
    ----------
    kind
        ``"templates"`` (pages, fonts) or ``"catalogue"`` (records)

    Raises
    ------
    FileNotFoundError
        The installation lost the folder.
    """
    inside = _PACKAGE / f"_{kind}"  # a wheel
    if inside.is_dir():
        return inside
    beside = _PACKAGE.parent / kind  # a checkout or an editable install
    # The second test keeps a site-packages/templates of somebody else out.
    if beside.is_dir() and (_PACKAGE.parent / "pyproject.toml").is_file():
        return beside
    msg = f"finplan was installed without its {kind} folder"
    raise FileNotFoundError(msg)
