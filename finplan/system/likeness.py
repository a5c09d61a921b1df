"""How like two coating systems are: of one kind, or of another and in what way."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Family, Finish

_COLOURS: frozenset[Family] = frozenset({"stain", "dye"})
UNDER: frozenset[Family] = frozenset({"primer", "filler", "sealer", *_COLOURS})
"""What another finish goes over."""
_MOST_LOST = 1
"""By how much one of the ratings, which go from 1 to 5, may fall in a system of the same kind."""
_RATED = ("water", "heat", "wear")


@dataclass(frozen=True, slots=True)
class Likeness:
    """How like a system is to the one that it would stand in for."""

    of_kind: bool
    """Whether it is of the same kind: a film or none, coloured or not, hardly less proof, and no new isocyanate."""
    family: Family
    of_family: bool
    """Whether what most of it is made of is of the same family."""
    less: tuple[str, ...]
    """Against what it is less proof."""
    lost: int
    """By how much in all its ratings fall."""
    isocyanate: bool
    """Whether it brings isocyanate where there was none."""


def likeness(own: str, other: str, catalogue: Catalogue) -> Likeness:
    """Return how like the system *other* is to the system *own*, by their names.

    Of each system that finish counts which is put on most often, what lies under it and colours left out. Both have to
    put on something.
    """
    mine, yours = _main(own, catalogue), _main(other, catalogue)
    rated, instead = catalogue.systems[own].ratings, catalogue.systems[other].ratings
    isocyanate = _isocyanate(other, catalogue) and not _isocyanate(own, catalogue)
    falls = {name: max(0, getattr(rated, name) - getattr(instead, name)) for name in _RATED}
    return Likeness(
        of_kind=mine.film_forming == yours.film_forming
        and catalogue.systems[own].opaque == catalogue.systems[other].opaque
        and _coloured(own, catalogue) == _coloured(other, catalogue)
        and max(falls.values()) <= _MOST_LOST
        and not isocyanate,
        family=yours.family,
        of_family=mine.family == yours.family,
        less=tuple(name for name, fall in falls.items() if fall),
        lost=sum(falls.values()),
        isocyanate=isocyanate,
    )


def _main(system: str, catalogue: Catalogue) -> Finish:
    names = [step.finish for step in catalogue.systems[system].steps if step.finish is not None]
    on_top = [name for name in names if catalogue.finishes[name].family not in UNDER] or names
    return catalogue.finishes[Counter(on_top).most_common(1)[0][0]]


def _isocyanate(system: str, catalogue: Catalogue) -> bool:
    return any(catalogue.finishes[name].hazards.isocyanate for name in catalogue.systems[system].finishes())


def _coloured(system: str, catalogue: Catalogue) -> bool:
    used = [catalogue.finishes[name] for name in catalogue.systems[system].finishes()]
    return any(finish.tinted or finish.family in _COLOURS for finish in used)
