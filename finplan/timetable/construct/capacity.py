"""How late a piece could be begun for all its work and all its wet coats to have room, alone in the shop: bounds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from itertools import accumulate

from finplan.timetable.construct.network import Network, Task
from finplan.timetable.hours import Hours
from finplan.timetable.setting import Setting

Off = Callable[[int], int]
"""Until when a coat that is begun in a slot takes its places at the least; never sooner for a later one."""


def latest_for_work(tasks: Sequence[Task], ends: Mapping[str, int], hours: Mapping[str, Hours]) -> int:
    """Return a slot after which no work can be begun, for all of it to be done in the hours that there are.

    Parameters
    ----------
    tasks
        Of a piece, one at least
    ends
        By when each has to end at the latest
    hours
        Of everybody

    Notes
    -----
    What has to end by a moment takes so much of everybody's time before it. Who can do what is not looked at.
    """
    by_end = sorted(tasks, key=lambda task: ends[task.name])
    work = accumulate(task.slots for task in by_end)
    return min(_back(ends[task.name], slots, hours.values()) for task, slots in zip(by_end, work, strict=True))


def _back(end: int, slots: int, hours: Iterable[Hours]) -> int:
    """Return the latest slot from which on to *end* all together work for so many slots; -1 where there is none."""
    people = list(hours)
    there = sum(person.before(end) for person in people) - slots
    return bisect_right(range(end + 1), there, key=lambda slot: sum(person.before(slot) for person in people)) - 1


def latest_for_rack(network: Network, tasks: Sequence[Task], starts: Mapping[str, int], setting: Setting) -> int | None:
    """Return a slot after which a piece cannot be begun, for all its wet coats to have room; None for no such slot.

    Parameters
    ----------
    network
        All tasks
    tasks
        Of a piece
    starts
        How late each could start by its waits
    setting
        The shop

    Notes
    -----
    From the last moment at which a coat of the piece may take places, moments are set back one by one, each the last at
    which a coat can be begun that is off the rack by the one after it. Every coat is there at one of them, and at each
    there is room for so many: what is left over after some of them was begun before. That holds for any of the coats,
    such as those that dry longest.
    """
    begun: list[int] = []
    rack = setting.shop.rack
    for places, capacity in ((True, rack.places), (False, rack.hooks)):
        taken = by_off(network, tasks, setting, places=places)
        latest = {off: max(starts[coat.name] for coat in coats) for off, coats in taken.items()}
        longest = sorted(taken, key=lambda off: latest[off] - off(latest[off]))
        for count in range(1, len(longest) + 1):
            some = longest[:count]
            amount = sum(takes(task, places=places) for off in some for task in taken[off])
            last = max(off(latest[off]) for off in some)
            if amount > capacity:
                begun.append(_turns_back(some, last, (amount - 1) // capacity, setting))
    return min(begun, default=None)


def by_off(network: Network, tasks: Iterable[Task], setting: Setting, *, places: bool) -> dict[Off, list[Task]]:
    """Return the coats that take places of one kind, by until when they do."""
    offs: dict[tuple[object, ...], Off] = {}
    taken: dict[Off, list[Task]] = {}
    for task in tasks:
        if task.wet is not None and takes(task, places=places):
            rules = lets_go(network, task)
            off = offs.setdefault((task.wet.lifted, task.slots, rules), off_rack(task, rules, setting))
            taken.setdefault(off, []).append(task)
    return taken


def takes(task: Task, *, places: bool) -> int:
    """Return how many flat places, or else hooks, a task leaves taken; 0 where it puts nothing on."""
    if task.wet is None:
        return 0
    return task.wet.places if places else task.wet.hooks


def lets_go(network: Network, coat: Task) -> tuple[object, ...]:
    """Return what the next work on an item waits for since a coat, as far as that is a rule."""
    following = None if coat.wet is None else coat.wet.following
    if following is None or following not in network.tasks:
        return ()
    return tuple(rule for name, rule in network.tasks[following].waits if name == coat.name)


def off_rack(coat: Task, rules: tuple[object, ...], setting: Setting) -> Off:
    """Return until when a coat takes its places at the least, by its start; *rules* as of ``lets_go``."""

    @cache
    def off(start: int) -> int:
        end = start + coat.slots
        moments = [] if coat.wet is None else [coat.wet.lifted(end)]
        if rules:
            waited = [end if rule is None else rule(end) for rule in rules]  # type: ignore[operator]
            there = [setting.slots if wait is None else wait for wait in waited]
            moments.append(setting.lifted(max(there)))
        return min((setting.slots if moment is None else moment for moment in moments), default=end)

    return off


def _turns_back(offs: Sequence[Off], last: int, turns: int, setting: Setting) -> int:
    """Return the last slot of work at which a coat can be begun for so many turns of the rack to come after it."""
    at = last
    for _ in range(turns + 1):
        at = turn_back(offs, at, setting)
    return at


def turn_back(offs: Iterable[Off], moment: int, setting: Setting) -> int:
    """Return the last slot of work in which a coat can be begun that is off the rack by a moment; negative for none."""
    at = -1
    for off in offs:
        if at < moment and off(at + 1) <= moment:  # else it lies too long to be begun later than another can
            later = range(at + 1, moment + 1)
            at += bisect_right(later, False, key=lambda slot, off=off: off(slot) > moment)  # type: ignore[misc]
    return worked(at, setting)


def worked(slot: int, setting: Setting) -> int:
    """Return the last slot up to one in which anybody works; -1 for none."""
    index = bisect_right(setting.anybody, slot, key=lambda span: span.start) - 1
    return -1 if index < 0 else min(slot, setting.anybody[index].end - 1)
