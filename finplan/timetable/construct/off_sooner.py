"""A coat that is begun later, as the next work on its item takes it off the rack as soon as that can be done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.occupied import Opening

_TRIES = 3
"""So many starts are tried, where the next work has no room as soon as the coat lets it be done."""


def off_sooner(
    bench: Bench, network: Network, task: Task, room: Opening, last: Mapping[str, int], patience: int
) -> tuple[Opening, Task] | None:
    """Take a coat later than where it has room, and the next work on its item sooner; return both.

    Placed backwards that work is done as late as can be, and until then, or until it is fit to be lifted, what was
    coated lies on the rack. Dry enough for that work it is long before.

    Parameters
    ----------
    bench
        With all that comes after the coat
    network
        All tasks
    task, room
        The coat, and where it has room while the next work stays
    last
        By when each task has to end. [slot]
    patience
        A coat is to be so much later at least. [slots]

    Returns
    -------
    tuple[Opening, Task] | None
        None where it is no later for that; nothing is moved then
    """
    following = None if task.wet is None else network.tasks.get(task.wet.following or "")
    if task.wet is None or following is None or not (task.wet.places or task.wet.hooks) or not _is_movable(following):
        return None
    done, freed = bench.plan.get(following.name), network.freed(task.wet, task.name, following)
    if (
        done is None
        or last[task.name] - room.end <= patience
        or bench.until(freed, room.end) >= min(done.start, bench.until(task.wet.lifted, room.end))
    ):
        return None
    bench.untake(following)
    quick = replace(task, wet=replace(task.wet, lifted=freed))
    until = last[task.name]
    for _ in range(_TRIES):
        later = bench.latest(quick, max(task.earliest, room.start + patience + 1), until, patience)
        then = None if later is None else bench.earliest(following, _may_begin(bench, following, task, later.end), 0)
        if later is None or then is None or then.end > done.end:
            break
        bench.take(following, then)
        exact = bench.exactly(task, later.way.mode, later.start)
        if exact is not None:
            bench.take(task, exact)
            return exact, following
        bench.untake(following)
        until = later.end - 1
    way = next(doer for doer in following.ways if doer.mode == done.mode)
    bench.take(following, Opening(way, bench.hours[way.person].before(done.start), done.start, done.end))
    return None


def _is_movable(task: Task) -> bool:
    """Return whether a task only takes somebody's time, and can wait."""
    waits = task.next_soon is None and task.over is None and task.close is None
    return waits and task.wet is None and task.clean_up is None


def _may_begin(bench: Bench, following: Task, coat: Task, end: int) -> int:
    """Return from when on the next work may be done by all that is placed before it, and by a coat that ends then."""
    ends = {name: bench.plan[name].end for name, _ in following.waits if name in bench.plan} | {coat.name: end}
    moments = (bench.until(rule, ends[name]) for name, rule in following.waits if name in ends)
    return max([following.earliest, *moments])
