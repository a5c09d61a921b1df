"""What stands of old coatings by what their tests came to, in words: at the tick, and at the head of every plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import tzinfo

from finplan.ledger import HeldPlan, Ledger, newest, numbers_of, own_job_of, ticks_of
from finplan.listing import listed
from finplan.moments import show_moment
from finplan.planning import Plan, PlannedPiece
from finplan.record import FilmTested, Tested, completed, done_now, films_tested

_TELL = "tick with --result lead, or --result clear"


def film_words(ledger: Ledger, held: HeldPlan, plan: Plan, pieces: Sequence[PlannedPiece]) -> tuple[str, ...]:
    """Return what stands of the old coatings of a job, whatever its plan knew; each a sentence without its stop.

    Parameters
    ----------
    ledger, held
        The record, and the newest plan of the job in it
    plan
        That plan
    pieces
        As their files say, without what the record knows
    """
    numbers, zone = numbers_of(ledger, held.job), plan.shop.time_zone
    told = (stands_words(one, numbers, zone) for one in films_of(ledger, held, plan, pieces))
    return tuple(words for words in told if words is not None)


def film_words_of(ledger: Ledger, files: Sequence[str], plan: Plan, pieces: Sequence[PlannedPiece]) -> tuple[str, ...]:
    """Return the same of the job of files; nothing where the record has none."""
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    return () if last is None else film_words(ledger, last, plan, pieces)


def films_of(ledger: Ledger, held: HeldPlan, plan: Plan, pieces: Sequence[PlannedPiece]) -> tuple[FilmTested, ...]:
    """Return what stands of the old coatings of a job; arguments as for ``film_words``."""
    return films_tested(pieces, ticks_of(ledger, held.job), completed(plan, done_now(ledger, held)))


def stands_words(film: FilmTested, numbers: Mapping[str, int], zone: tzinfo) -> str | None:
    """Return what stands of an old coating; None where nothing is told of it yet, or all of it is clear."""
    if film.lead:
        return (
            f"{film.piece}: lead was found in the old coating of {_named(film.lead, numbers, zone)}: nothing more is "
            "done to any of it until it is settled who may go on; what is planned takes all of it for lead"
        )
    untold = _named(film.untold, numbers)
    if film.clear and film.untold:
        return (
            f"{film.piece}: no layer of the old coating of {_named(film.clear, numbers, zone)} holds lead, and that "
            f"says nothing of {untold}: {_TELL} what that came to; until every test is clear all of it is planned as "
            "what may hold lead"
        )
    done = tuple(one for one in film.untold if one.done)
    if done:
        return (
            f"{film.piece}: what the test came to is not told of {_named(done, numbers)}: {_TELL}; until then it may "
            "hold lead"
        )
    return None


def ticked_words(film: FilmTested, steps: Sequence[str], numbers: Mapping[str, int], zone: tzinfo) -> list[str]:
    """Return what follows from tests that were ticked just now."""
    now = tuple(one for one in film.tests if one.step in steps)
    if not now:
        return []
    if film.result == "clear":
        return [
            f"no layer of the old coating of {_named(film.clear, numbers)} holds lead: plan the rest again (finplan "
            "replan), which leaves out what is done for lead"
        ]
    told = []
    clear = tuple(one for one in now if one.result == "clear")
    if film.lead and clear:
        told.append(f"no layer of the old coating of {_named(clear, numbers)} holds lead; that is said of it alone")
    words = stands_words(film, numbers, zone)
    if words is not None:
        told.append(words)
    if film.lead:
        told.append("when that is settled, plan the rest again (finplan replan)")
    return told


def _named(tests: Sequence[Tested], numbers: Mapping[str, int], zone: tzinfo | None = None) -> str:
    """Return the items of tests with the numbers of these, and when they were ticked on the clock of a *zone*."""
    named = []
    for one in tests:
        at = "" if zone is None or one.at is None else f", {show_moment(one.at.astimezone(zone))}"
        named.append(f"{one.item} (test {numbers.get(one.step, one.step)}{at})")
    return listed(named)
