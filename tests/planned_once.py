"""Every job is planned once in a session of tests, whichever asks first and in whichever process.

Plans of the same pieces in the same shop, asked for in the same way, are the same to the minute: what reads, prints and
ticks them need not wait for the search each time. Pages and commands plan through this, and made-up jobs, whose plans
several files of tests look at; the other tests of timetables call ``timetable_of`` itself, and search anew.
"""

from __future__ import annotations

import hashlib
import os
import pickle
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

import pytest

from finplan.catalogue import Catalogue, bundled_catalogue
from finplan.itself import Itself
from finplan.planning import PlannedPiece, Wishes, slips_if_late, timetable_of
from finplan.reading import GivenDate
from finplan.timetable import Draft, Slips, Timetable, chance
from finplan.timetable.at_once import AtOnce
from finplan.timetable.search import Search

Found = TypeVar("Found")
_SEARCHED, _DRAWN = Search.solved, chance._values
"""What tests put something else in the place of: what is planned then is kept apart."""

ASKING = (
    "finplan.planning.choice.timetable_of",
    "finplan.planning.again.timetable_of",
    "tests.timetable.generated.timetable_of",
)
"""Where pages and commands ask for a timetable, and the tests that look at the same made-up jobs."""
DRAFTING = "finplan.planning.plan.draft_of"
"""Where pages and commands ask for one that is looked at before all of it is told."""
SLIPPING = "finplan.planning.plan.slips_if_late"
"""Where they ask what it costs when one slips."""


def as_drafts(planned: Callable[..., Timetable]) -> Callable[..., Draft]:
    """Return what makes timetables as what makes such as are looked at before all of them is told."""
    return lambda *given, **more: Draft.of(planned(*given, **more))


@contextmanager
def planned_once(folder: Path) -> Iterator[None]:
    """Keep timetables in a folder, and read back what is asked for again."""

    def kept(
        pieces: Sequence[PlannedPiece],
        deliveries: Sequence[GivenDate | None],
        *,
        now: datetime,
        wishes: Wishes,
        air_waits_h: Mapping[str, float],
    ) -> Timetable:
        file = folder / _name(pieces, deliveries, now, wishes, air_waits_h.items())
        if file.exists():
            found: Timetable = _read(file)
            return found
        found = timetable_of(pieces, deliveries, now=now, wishes=wishes, air_waits_h=air_waits_h)
        tried = all(getattr(clash.requirement, "all_tried", True) for clash in found.clashes)
        if found.would_be_sure or found.cut_short or not tried:  # depends on how busy the machine was
            return found
        return _written(file, found)

    def slips_kept(
        pieces: Sequence[PlannedPiece],
        deliveries: Sequence[GivenDate | None],
        planned: Timetable,
        *,
        now: datetime,
        wishes: Wishes,
    ) -> Slips:
        file = folder / f"slips-{_name(pieces, deliveries, now, wishes, planned)}"
        if file.exists():
            found: Slips = _read(file)
            return found
        return _written(file, slips_if_late(pieces, deliveries, planned, now=now, wishes=wishes))

    with pytest.MonkeyPatch.context() as patch:
        for name in ASKING:
            patch.setattr(name, kept)
        patch.setattr(DRAFTING, as_drafts(kept))
        patch.setattr(SLIPPING, slips_kept)
        yield


@contextmanager
def made_at_once() -> Iterator[None]:
    """Let plans be as they are made at once, for tests that ask for any plan: they keep every rule, but are not best.

    What is planned so is kept apart from what is searched for.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Search, "solved", lambda *_, **__: None)
        patch.setattr(AtOnce, "earlier", lambda _, made, **__: made)
        yield


def _read(file: Path) -> Any:
    return pickle.loads(file.read_bytes())  # noqa: S301 - written by the tests themselves


def _written(file: Path, found: Found) -> Found:
    whole = file.with_suffix(f".{os.getpid()}")
    whole.write_bytes(pickle.dumps(found))
    whole.replace(file)
    return found


def _name(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    now: datetime,
    wishes: Wishes,
    beside: object,
) -> str:
    """Return a name that stands for all that a timetable, or what follows from one, is planned from."""
    rests_on = [
        (piece.key, piece.name, piece.times, _told(Itself(piece.source.piece)), _told(Itself(piece.source.shop)),
         _told(Itself(piece.operations)), _told(Itself(piece.treatments)))
        for piece in pieces
    ]  # fmt: skip
    own = _of_its_own(pieces[0].source.catalogue)
    asked = replace(wishes, progress=None, soonest=None)
    otherwise = [Search.solved is not _SEARCHED, chance._values is not _DRAWN]
    told = repr((rests_on, own, list(deliveries), now, asked, beside, otherwise))
    return hashlib.sha256(told.encode()).hexdigest()


@lru_cache(maxsize=64)
def _told(it: Itself[object]) -> str:
    """Return all that something holds; of one plan it is asked for again by what follows from it."""
    return repr(it.it)


def _of_its_own(catalogue: Catalogue) -> list[tuple[str, str, object]]:
    """Return what a catalogue has otherwise than the bundled one: the shop's records, prices and overrides."""
    bundled = bundled_catalogue()
    if catalogue is bundled:
        return []
    return [
        (kind, name, records.get(name))
        for kind, records in catalogue.kinds().items()
        if records is not (known := bundled.kinds()[kind])
        for name in sorted(records.keys() | known.keys())
        if records.get(name) is not known.get(name) and records.get(name) != known.get(name)
    ]
