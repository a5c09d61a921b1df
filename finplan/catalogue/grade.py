"""Names of grades on two scales: P-grades, and CAMI grades, which are numbers without a P."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from math import log
from types import MappingProxyType
from typing import TYPE_CHECKING

from finplan.itself import Itself

if TYPE_CHECKING:
    from finplan.catalogue.loader import Catalogue

CAMI = "CAMI "
"""Before the number of a CAMI grade, so that it is not taken for a P-grade."""
_WRITTEN = re.compile(r"(?P<scale>p|cami)?+\s*+(?P<number>[1-9]\d{0,4})", re.IGNORECASE)


def grade_name(value: object) -> str | None:
    """Return the name of a grade as a person writes it, or None where it is none.

    A number alone is a CAMI grade: only P-grades have a P.

    >>> grade_name("P120"), grade_name("p 120"), grade_name(120), grade_name("CAMI 120"), grade_name("fine")
    ('P120', 'P120', 'CAMI 120', 'CAMI 120', None)
    """
    if isinstance(value, bool) or not isinstance(value, (int, str)):
        return None
    match = _WRITTEN.fullmatch(str(value).strip())
    if match is None:
        return None
    scale = "P" if (match["scale"] or "").casefold() == "p" else CAMI
    return f"{scale}{match['number']}"


def grade_sizes(catalogue: Catalogue) -> Mapping[str, float]:
    """Return the mean grain diameter of every grade of both scales, by name, P-grades first. [µm]

    Of one catalogue they are one table, of which it is worked out once which grade does for which.
    """
    return _sizes_in(Itself(catalogue))


@lru_cache(maxsize=16)
def _sizes_in(catalogue: Itself[Catalogue]) -> Mapping[str, float]:
    sizes = dict(catalogue.it.grades["p-grade"].sizes_um)
    sizes.update({f"{CAMI}{number}": size_um for number, size_um in catalogue.it.grades["cami"].sizes_um.items()})
    return MappingProxyType(sizes)


def is_cami(grade: str) -> bool:
    """Return whether a grade is one of the CAMI scale."""
    return grade.startswith(CAMI)


def on_other_scale(grade: str, sizes_um: Mapping[str, float]) -> str:
    """Return the grade of the other scale whose grain is nearest in size, by the logarithm of the ratio.

    Parameters
    ----------
    grade
        A grade of either scale
    sizes_um
        Every grade of both

    Examples
    --------
    >>> sizes = {"P100": 162.0, "P120": 125.0, "P400": 35.0, "CAMI 100": 141.0, "CAMI 320": 36.0}
    >>> on_other_scale("CAMI 100", sizes), on_other_scale("P400", sizes)
    ('P120', 'CAMI 320')
    """
    return _nearest_of_other(Itself(sizes_um))[grade]


@lru_cache(maxsize=16)
def _nearest_of_other(sizes: Itself[Mapping[str, float]]) -> dict[str, str]:
    """Return the grade of the other scale for each; a plan asks it a hundred times of the same sizes."""
    sizes_um = sizes.it
    other = {mine: [name for name in sizes_um if is_cami(name) is not mine] for mine in (True, False)}
    return {
        grade: min(other[is_cami(grade)], key=lambda name: abs(log(sizes_um[name] / size_um)))
        for grade, size_um in sizes_um.items()
        if other[is_cami(grade)]
    }
