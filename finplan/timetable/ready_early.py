"""Plans of a job that are ready as early as can be: made at once, searched for, and tried for fewer people."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

from finplan.scheduling import EarliestFinish
from finplan.timetable.blocked import blocked
from finplan.timetable.found import Found, NotFoundYetError
from finplan.timetable.least_late import InTimePlanner
from finplan.timetable.timetable import NO_BUFFER

_FAR_LATER = 1.1
"""What is made at once for fewer people, and so much later than for all, is no better in another order either."""


class EarlyPlanner(InTimePlanner):
    """Plans the pieces of a job to be ready early."""

    @cached_property
    def soonest_in_time(self) -> Found | None:
        """The plan that is ready as early as can be with every date kept, not made tidy; None where none is found."""
        return self.early(dated=True, tidy=False)

    def early(self, *, dated: bool = False, tidy: bool = True) -> Found | None:
        """Return the plan that is ready as early as can be; *dated*: with every date kept; *tidy*: as for ``late``.

        With *tidy* more is tried, and nothing is ready later than without the last of several people.
        """
        return self._early(self.soonest_made(dated=dated), dated=dated, tidy=tidy)

    def soonest_made(self, *, dated: bool) -> Found | None:
        """Return the plan from which one for ``early`` is searched for; None where none is found."""
        return self.made_early(dated=dated) or (self._in_time(NO_BUFFER) if dated else None)

    def _early(self, made: Found | None, *, dated: bool, tidy: bool) -> Found | None:
        """Return the plan for ``early`` from one that was *made* at once, if any was; other arguments as there."""
        found = None if made is None else self._earliest(made, dated=dated, tidy=tidy)
        if not tidy or (found is not None and found.result.status == "optimal"):
            return found
        fewer = self._by_fewer(made, dated=dated)
        if fewer is None or (found is not None and self._at_once.earliest_of(found, fewer) is found):
            return found
        return self._better(self._at_once.earlier(fewer, dated=dated, asked=tidy), late=False, tidy=tidy)

    def _earliest(self, made: Found, *, dated: bool, tidy: bool) -> Found | None:
        """Return a plan that was made at once for ``early``, made better; arguments as there."""
        if not self.is_small:
            return self._better(self._at_once.earlier(made, dated=dated, asked=tidy), late=False, tidy=tidy)
        if not tidy and not self.maker.extras(made.schedule)[0]:
            bounded = self._search.against_bound(made, late=False)
            if bounded.result.status == "optimal":
                return bounded
        windows = self._windows.early(made, dated=dated)
        finishes = tuple(finish for of_piece in self.placement(windows).finishes.values() for finish in of_piece)
        found = self._search.solved(windows, NO_BUFFER, [EarliestFinish(finishes)], made=made, settled=made, tidy=tidy)
        stages = () if found is None else found.result.stages
        if any(stage.proven for stage in stages if isinstance(stage.objective, EarliestFinish)):
            return found
        earlier = self._at_once.earlier(found or made, dated=dated, asked=tidy)
        return found if found is not None and earlier is found else self._better(earlier, late=False, tidy=tidy)

    def _by_fewer(self, made: Found | None, *, dated: bool) -> Found | None:
        """Return the plan for ``early`` without the last of several people; None where there is none.

        What fewer people can do more can: with one more nothing has to be ready later, so they are planned for as they
        would be alone. Not tried where what is made at once for them is ready far later than what was *made* for all.
        """
        shop = self.job.shop.model_copy(update={"people": self.job.shop.people[:-1]})
        fewer = EarlyPlanner(replace(self.job, shop=shop), limit_s=self.left_s)
        if not shop.people or blocked(fewer.job, fewer.setting):
            return None
        try:
            theirs = fewer.made_early(dated=dated)
            if theirs is None or (made is not None and fewer._takes(theirs) > _FAR_LATER * self._takes(made)):
                return None
            found = fewer._early(theirs, dated=dated, tidy=True)
        except NotFoundYetError:
            return None
        return None if found is None else self._at_once.in_this_shop(found.schedule, dated=dated)

    def sooner_of(self, found: Found, late: Found) -> Found:
        """Return the better one of two plans for ``early`` with every date kept, one of which was made for ``late``."""
        other = self._at_once.in_this_shop(late.schedule, dated=True)
        if other is None or self._at_once.earliest_of(found, other) is found:
            return found
        return self._search.against_bound(other, late=False)

    def _takes(self, found: Found) -> int:
        """Return how long it is from now until everything is ready in a plan. [slots]"""
        return max(self.maker.ready(found.schedule).values(), default=self.setting.first) - self.setting.first

    def made_early(self, *, dated: bool) -> Found | None:
        """Return the plan that is made at once for ``early``; None where it keeps not every date, or finds no room."""
        return self._at_once.early(dated=dated)
