"""What stands of old coatings by what their tests came to, in words: at the tick, and at the head of every plan."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import tzinfo

from finplan.ledger import HeldPlan, Ledger, numbers_of, ticks_of
from finplan.listing import listed
from finplan.moments import show_moment
from finplan.planning import Plan, PlannedPiece
from finplan.record import FilmTested, Tested, completed, done_now, films_tested
from finplan.timetable import all_operations

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
    told = (film_stands(film, numbers, zone) for film in films_of(ledger, held, plan, pieces))
    return tuple(words for words in told if words is not None)


def films_of(ledger: Ledger, held: HeldPlan, plan: Plan, pieces: Sequence[PlannedPiece]) -> tuple[FilmTested, ...]:
    """Return what stands of the old coatings of a job; arguments as for ``film_words``."""
    return films_tested(pieces, ticks_of(ledger, held.job), completed(plan, done_now(ledger, held)))


def film_stands(film: FilmTested, numbers: Mapping[str, int], zone: tzinfo) -> str | None:
    """Return what stands of an old coating; None where nothing is told of it yet, or all of it is clear."""
    if film.lead:
        return (
            f"{film.piece}: lead was found in the old coating of {_named(film.lead, numbers, zone)}: nothing more is "
            "done to any of it until it is settled who may go on; what is planned takes all of it for lead. When that "
            "is settled write lead-test: lead into its file, under refinish"
        )
    untold = _named(film.untold, numbers)
    if film.clear and film.untold:
        return (
            f"{film.piece}: no layer of the old coating of {_named(film.clear, numbers, zone)} holds lead, and that "
            f"says nothing of {untold}: {_TELL} what that came to; until every test is clear all of it is planned as "
            "what may hold lead"
        )
    done = tuple(tested for tested in film.untold if tested.done)
    if done:
        return (
            f"{film.piece}: what the test came to is not told of {_named(done, numbers)}: {_TELL}; until then it may "
            "hold lead"
        )
    return None


def ticked_words(film: FilmTested, steps: Sequence[str], numbers: Mapping[str, int], zone: tzinfo) -> list[str]:
    """Return what follows from tests that were ticked just now."""
    now = tuple(test for test in film.tests if test.step in steps)
    if not now:
        return []
    if film.result == "clear":
        return [
            f"no layer of the old coating of {_named(film.clear, numbers)} holds lead: plan the rest again (finplan "
            "replan), which leaves out what is done for lead"
        ]
    told = []
    clear = tuple(tested for tested in now if tested.result == "clear")
    if film.lead and clear:
        told.append(f"no layer of the old coating of {_named(clear, numbers)} holds lead; that is said of it alone")
    words = film_stands(film, numbers, zone)
    if words is not None:
        told.append(words)
    if film.lead:
        told.append("when that is settled, plan the rest again (finplan replan)")
    return told


def under_stop(
    films: Sequence[FilmTested], pieces: Sequence[PlannedPiece], steps: Collection[str], numbers: Mapping[str, int]
) -> Iterator[str]:
    """Give of steps that are ticked now those that were done although lead stops their piece.

    Tests go on, and so does cleaning up: what has come off is wiped up and bagged, whoever goes on.
    """
    for piece in pieces:
        name = piece.source.piece.name
        if not any(film.lead and film.piece == name for film in films):
            continue
        every = [
            operation
            for operation in all_operations(piece.reckoned_operations)
            if operation.deed not in ("test", "wipe-down")
        ]
        mine = sorted(
            (numbers.get(operation.id, operation.id) for operation in every if operation.id in steps), key=str
        )
        if mine:
            one = len(mine) == 1
            yield (
                f"{name}: {'step' if one else 'steps'} {listed(map(str, mine))} {'is' if one else 'are'} ticked "
                "although lead was found: stop, take up wet and bag what came off, wash before you eat or go home, "
                "and settle first who may go on"
            )


def _named(tests: Sequence[Tested], numbers: Mapping[str, int], zone: tzinfo | None = None) -> str:
    """Return the items of tests with the numbers of these, and when they were ticked on the clock of a *zone*."""
    named = []
    for test in tests:
        at = "" if zone is None or test.at is None else f", {show_moment(test.at.astimezone(zone))}"
        named.append(f"{test.item} (test {numbers.get(test.step, test.step)}{at})")
    return listed(named)
