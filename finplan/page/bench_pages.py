"""The pages of the bench: today's steps to be ticked, taken back and corrected, and the rest planned again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, Response

from finplan.bench import NotHeldError, tick_lines
from finplan.page.at_bench import bench_shown, next_work, state_of
from finplan.page.bench_api import DayAsked
from finplan.page.bench_sent import air_sent, day_of, noted_of, seen_of
from finplan.page.bench_shown import NotTicked
from finplan.page.folder import NoSuchPieceError
from finplan.page.jobs import BeforeError, Jobs, MeanwhileError
from finplan.page.pages import Sent
from finplan.page.ways import WaysOpen
from finplan.page.workbench import Workbench
from finplan.planning import WishError
from finplan.problems import FinplanError
from finplan.record import TypedError
from finplan.typesetting import rendered

_FIELDS = {
    "at": "when it was done",
    "used": "used",
    "can": "the can before and after",
    "took": "how long it took",
    "air": "the air",
}
"""What the page calls the options of the command line."""


@dataclass(frozen=True)
class BenchPages:
    """The routes of the bench of one folder."""

    session: Workbench
    jobs: Jobs

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        for path, does, method in (
            ("/bench", self.all_jobs, "GET"),
            ("/piece/{name}/bench", self.bench, "GET"),
            ("/piece/{name}/bench/news", self.news, "GET"),
            ("/piece/{name}/bench/tick", self.tick, "POST"),
            ("/piece/{name}/bench/undo", self.undo, "POST"),
            ("/piece/{name}/bench/replan", self.replan, "POST"),
            ("/piece/{name}/bench/begin", self.begin, "POST"),
        ):
            routes.add_api_route(path, does, methods=[method], response_class=HTMLResponse)
        return routes

    def all_jobs(self) -> str:
        """Show what is to be done next to every piece."""
        jobs = []
        for name in self.session.folder.names():
            title = name
            try:
                title = str(self.session.view(name).reckoned.data.get("piece") or name)
                shown = self.jobs.shown(name)
            except NotHeldError:
                jobs.append((name, title, "", "", "No plan of it is held yet."))
                continue
            except FinplanError as error:
                jobs.append((name, title, "", "", str(error)))
                continue
            bench = bench_shown(shown.job, shown.days, self.session.now())
            days = (*bench.days, *bench.next_days)
            jobs.append((name, title, next(next_work(days), bench.left), bench.late, ""))
        return rendered("page/jobs.html", jobs=jobs)

    def bench(self, name: str, ways: WaysOpen, day: DayAsked = None) -> Response:
        """Show today's steps, or those of another day."""
        return self._page(name, ways, day_of(day))

    def news(self, name: str, state: Annotated[str, Query(max_length=200)] = "") -> Response:
        """Say whether anything was ticked or planned since."""
        if state == state_of(self.jobs.shown(name).job):
            return Response(status_code=204)
        return HTMLResponse(rendered("page/news.html", name=name))

    def tick(self, name: str, sent: Sent, ways: WaysOpen) -> Response:
        """Tick a step."""
        number, day = sent.get("step", "")[:40], day_of(sent.get("day"))
        dry, believe = bool(sent.get("dry")), bool(sent.get("believe"))
        try:
            noted = noted_of(sent, self.jobs.shown(name).job.plan.units)
            done = self.jobs.tick(name, number, noted, seen_of(sent), dry=dry, believe=believe)
        except BeforeError as error:
            return self._page(name, ways, day, 422, refused=NotTicked(number, sent, str(error), before=True))
        except NoSuchPieceError:
            raise
        except MeanwhileError as error:
            return self._page(name, ways, day, 409, wrong=(str(error),))
        except (TypedError, WishError) as error:
            return self._page(name, ways, day, 422, refused=NotTicked(number, sent, _said(error)))
        except FinplanError as error:
            return self._page(name, ways, day, 422, wrong=(str(error),))
        return self._page(name, ways, day, told=tick_lines(done))

    def undo(self, name: str, sent: Sent, ways: WaysOpen) -> Response:
        """Take a tick back."""
        day = day_of(sent.get("day"))
        try:
            done = self.jobs.take_back(name, sent.get("step", "")[:40], seen_of(sent))
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            return self._page(name, ways, day, _status(error), wrong=(str(error),))
        return self._page(name, ways, day, told=tick_lines(done))

    def replan(self, name: str, sent: Sent, ways: WaysOpen) -> Response:
        """Plan the rest again."""
        try:
            air = air_sent(sent, self.jobs.shown(name).job.plan.units)
            clashes = self.jobs.plan_again(name, seen_of({**sent, "seen": "0"}).plan, air)
        except NoSuchPieceError:
            raise
        except TypedError as error:
            return self._page(name, ways, None, 422, wrong=(_said(error),))
        except FinplanError as error:
            return self._page(name, ways, None, _status(error), wrong=(str(error),))
        if clashes:
            return self._page(name, ways, None, 422, wrong=clashes)
        return self._page(name, ways, None, told=("The rest is planned again.",), changed=True)

    def begin(self, name: str, ways: WaysOpen) -> Response:
        """Plan a piece, and hold the plan."""
        try:
            clashes = self.jobs.begin(name)
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            return self._not_planned(name, ways, (str(error),), 422)
        return self._not_planned(name, ways, clashes, 422) if clashes else self._page(name, ways, None)

    def _page(
        self,
        name: str,
        ways: Sequence[str],
        day: date | None,
        status: int = 200,
        *,
        refused: NotTicked | None = None,
        told: Sequence[str] = (),
        wrong: Sequence[str] = (),
        changed: bool = False,
    ) -> Response:
        try:
            shown = self.jobs.shown(name)
        except NotHeldError:
            return self._not_planned(name, ways, wrong, status)
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            return self._not_planned(name, ways, wrong, status, str(error))
        bench = bench_shown(
            shown.job, shown.days, self.session.now(), wanted=day, refused=refused, told=told, wrong=wrong
        )
        page = rendered(
            "page/bench.html", bench=bench, name=name, day=day.isoformat() if day else "", changed=changed, ways=ways
        )
        return HTMLResponse(page, status)

    def _not_planned(
        self, name: str, ways: Sequence[str], wrong: Sequence[str], status: int, why: str = ""
    ) -> Response:
        view = self.session.view(name)
        told: Mapping[str, object] = {
            "name": name,
            "title": str(view.reckoned.data.get("piece") or name),
            "can_be_planned": view.reckoned.sound,
            "wrong": wrong,
            "why": why,
            "ways": ways,
        }
        return HTMLResponse(rendered("page/not_planned.html", **told), status)


def _status(error: FinplanError) -> int:
    return 409 if isinstance(error, MeanwhileError) else 422


def _said(error: TypedError | WishError) -> str:
    """Return what is wrong with what was typed, in the words of the page."""
    of, words = (error.wish, str(error)) if isinstance(error, WishError) else (error.of, error.words)
    return words if of is None else f"{_FIELDS.get(of, of)}: {words}"
