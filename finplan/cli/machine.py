"""What the machine says of where it stands."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

_LINK = Path("/etc/localtime")


def machine_zone() -> str:
    """Return the name of the machine's time zone; UTC where it does not say."""
    names = [os.environ.get("TZ", "").removeprefix(":")]
    with suppress(OSError):
        names.append(str(_LINK.resolve()).rpartition("zoneinfo/")[2])
    return next((name for name in names if _is_known(name)), "UTC")


def _is_known(name: str) -> bool:
    if "/" not in name or name.startswith(("/", "Etc/")):
        return False
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True
