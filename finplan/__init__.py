r"""Plan the finish of a piece of furniture: surfaces, coats, quantities, grits, timetable and the printed sheet.

>>> import finplan
>>> piece = finplan.read("piece: Tray\ntimber: ash\nsystem: hardwax-oil\n"
...                      "parts: {bottom: {shape: rectangle, length: 400 mm, width: 300 mm, thickness: 8 mm}}\n")
>>> round(piece.surface.finished_m2, 3)
0.251

``read`` and ``plan`` are described in ``finplan.face``. Names are imported when they are asked for, so that importing
the package takes no time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from finplan.lazy import lazily
from finplan.version import __version__

if TYPE_CHECKING:
    from finplan.face import Plan, plan, read, read_shop
    from finplan.planning import PlannedPiece, WishError, Workshop
    from finplan.problems import FinplanError, NotPossibleError, Problem, RefusedError
    from finplan.timetable import NotFoundYetError

__all__ = [
    "FinplanError",
    "NotFoundYetError",
    "NotPossibleError",
    "Plan",
    "PlannedPiece",
    "Problem",
    "RefusedError",
    "WishError",
    "Workshop",
    "__version__",
    "plan",
    "read",
    "read_shop",
]

if not TYPE_CHECKING:
    __getattr__ = lazily(
        __name__,
        {
            "face": ("Plan", "plan", "read", "read_shop"),
            "planning": ("PlannedPiece", "WishError", "Workshop"),
            "problems": ("FinplanError", "NotPossibleError", "Problem", "RefusedError"),
            "timetable": ("NotFoundYetError",),
        },
    )

    def __dir__() -> list[str]:
        return __all__
