"""What is wanted of a timetable beside its dates, from the options of the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from finplan.cli.common import date_of, now
from finplan.cli.options import BufferChoice, ReadyChoice

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime

    from finplan.planning import Source, Wishes


def wishes_of(
    sources: Sequence[Source],
    start: datetime,
    *,
    asap: bool = False,
    buffer: BufferChoice = BufferChoice.wanted,
    ready_for: ReadyChoice = ReadyChoice.light_use,
    lose: str | None = None,
    done: Sequence[str] = (),
    limit: str | None = None,
    earliest: bool = True,
) -> Wishes:
    """Return what is wanted; a step that is named as done stands for all that come before it.

    Raises
    ------
    typer.BadParameter
        A time or a day cannot be read, or a step is none of these pieces'.
    """
    from finplan.planning import Wishes, steps_before, treated_pieces

    lost, soonest = date_of("--lose", lose), now()
    named = done_of(sources[0], done, start)
    before = steps_before(treated_pieces(sources)) if named else {}
    return Wishes(
        asap=asap,
        largest_buffer=buffer is BufferChoice.max,
        ready_for=ready_for.value,
        limit_s=seconds_of(limit),
        done=_with_steps_before(named, before, max(start, soonest)),
        lost_day=None if lost is None else lost.day,
        earliest=earliest,
        soonest=soonest,
    )


def done_of(source: Source, steps: Iterable[str], start: datetime) -> dict[str, datetime]:
    """Return when steps that are named as done ended, on the shop's clock; without a time, when work starts again."""
    from datetime import datetime, time

    done: dict[str, datetime] = {}
    for text in steps:
        name, _, ended = text.partition("=")
        when = date_of("--done", ended) if ended else None
        done[name] = (
            start if when is None else datetime.combine(when.day, when.clock or time(0), tzinfo=source.shop.time_zone)
        )
    return done


def seconds_of(limit: str | None) -> float | None:
    """Return what --limit says, or None where it says nothing. [s]"""
    if limit is None:
        return None
    try:
        seconds = float(limit)
    except ValueError:
        seconds = 0.0
    if not 1 <= seconds <= 3600:
        raise typer.BadParameter(
            f"{limit!r} is no time to search for; expected 1 to 3600 seconds", param_hint="--limit"
        )
    return seconds


def _with_steps_before(
    done: Mapping[str, datetime], before: Mapping[str, Sequence[str]], latest: datetime
) -> dict[str, datetime]:
    """Return what has been done with the steps that come before: a step that is named stands for them too."""
    from finplan.problems import did_you_mean

    whole = dict(done)
    for step, ended in done.items():
        if step not in before:
            raise typer.BadParameter(f"{step!r} is no step; {did_you_mean(step, before)}", param_hint="--done")
        if ended > latest:
            wrong = f"{step} cannot have ended at {ended:%Y-%m-%d %H:%M}, which is still to come"
            raise typer.BadParameter(wrong, param_hint="--done")
        for earlier in before[step]:
            if earlier in done and done[earlier] > ended:
                wrong = f"{earlier} comes before {step} and cannot have ended after it"
                raise typer.BadParameter(wrong, param_hint="--done")
            if earlier not in done:
                whole[earlier] = min(ended, whole.get(earlier, ended))
    return whole
