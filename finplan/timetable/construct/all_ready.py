"""How early pieces could all be ready, for their work to have hours and their wet coats room on the rack: bounds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import cache

from finplan.timetable.construct.capacity import Off, by_off, takes
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.hours import Hours
from finplan.timetable.setting import Setting


def soonest_for_work(tasks: Collection[Task], starts: Mapping[str, int], hours: Mapping[str, Hours], last: int) -> int:
    """Return a slot before which not all work can be done, in the hours of those who can do it.

    Parameters
    ----------
    tasks
        Of all pieces
    starts
        How early each could start at best
    hours
        Of everybody
    last
        The last slot that is looked at

    Notes
    -----
    What cannot start before a moment takes so much time after it, of those people alone who can do any of it.
    """
    soonest = 0
    able = {task.name: frozenset(way.person for way in task.ways) for task in tasks}
    alike = set(able.values())
    for people in alike | {one | other for one in alike for other in alike}:
        theirs = [hours[name] for name in people]
        work = 0
        for task in sorted(tasks, key=lambda task: -starts[task.name]):
            if able[task.name] <= people:
                work += task.slots
                soonest = max(soonest, _on(starts[task.name], work, theirs, last))
    return soonest


def _on(start: int, slots: int, people: Sequence[Hours], last: int) -> int:
    """Return the first slot up to which from *start* on all together work for so many slots; *last* for none."""
    done = sum(person.before(start) for person in people) + slots
    looked = range(start, last)
    return start + bisect_right(looked, done - 1, key=lambda slot: sum(person.before(slot) for person in people))


def soonest_for_rack(network: Network, starts: Mapping[str, int], setting: Setting) -> int:
    """Return a slot before which not all pieces are ready, for all their wet coats to have room.

    Parameters
    ----------
    network
        All tasks
    starts
        How early each of those in question could start at best
    setting
        The shop

    Notes
    -----
    The mirror of ``latest_for_rack``: from the first moment at which a coat can be begun, moments are set one by one,
    each the last at which everything begun after the one before still lies there. Every coat that is begun by a moment
    is there at that or at an earlier one, and at each there is room for so many: some coat is begun after as many
    moments as the others fill. That holds for any of the coats, such as those that dry longest.
    """
    soonest = 0
    ready = cache(lambda name, start: _ready_after(network, name, start, ready, setting.slots))
    for places, capacity in ((True, setting.shop.rack.places), (False, setting.shop.rack.hooks)):
        taken = by_off(network, [network.tasks[name] for name in starts], setting, places=places)
        first = {off: min(starts[coat.name] for coat in coats) for off, coats in taken.items()}
        longest = sorted(taken, key=lambda off: first[off] - off(first[off]))
        for count in range(1, len(longest) + 1):
            some = longest[:count]
            coats = [coat for off in some for coat in taken[off]]
            turns = (sum(takes(coat, places=places) for coat in coats) - 1) // capacity
            begun = turns_on(some, min(first[off] for off in some), turns, setting)
            soonest = max(soonest, min(ready(coat.name, begun) for coat in coats))
    return soonest


def turns_on(offs: Iterable[Off], start: int, turns: int, setting: Setting) -> int:
    """Return the first slot of work from *start* on in which a coat can be begun after so many turns of the rack.

    *offs* say until when each lies that is begun in a slot.
    """
    at = _worked_from(start, setting)
    for _ in range(turns):
        if at >= setting.slots:
            break
        at = _worked_from(min(off(at) for off in offs), setting)
    return at


def _worked_from(slot: int, setting: Setting) -> int:
    there = setting.lifted(slot)
    return setting.slots if there is None else min(there, setting.slots)


def _ready_after(network: Network, name: str, start: int, ready: Callable[[str, int], int], last: int) -> int:
    """Return how early all that waits for a task is ready at best, itself too, where it starts in a slot."""
    task = network.tasks[name]
    end = start + task.slots
    return max(min(moment, last) for moment in _moments(network, task, end, ready, last))


def _moments(network: Network, task: Task, end: int, ready: Callable[[str, int], int], last: int) -> Iterator[int]:
    fit = end if task.fit is None else task.fit(end)
    yield last if fit is None else fit
    for name in task.before:
        for waited_for, rule in network.tasks[name].waits:
            if waited_for == task.name:
                moment = end if rule is None else rule(end)
                yield last if moment is None or moment >= last else ready(name, moment)
