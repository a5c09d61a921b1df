"""The page of a coat that went wrong: which fault, likely causes, what to do, and a button that plans the repair."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from finplan.bench import faults_at, looked_at, scene_of
from finplan.faults import Diagnosis, Scene
from finplan.page.bench_sent import seen_of
from finplan.page.folder import NoSuchPieceError
from finplan.page.jobs import Jobs, MeanwhileError
from finplan.page.pages import Sent
from finplan.page.ways import WaysOpen
from finplan.page.workbench import Workbench
from finplan.problems import FinplanError
from finplan.telling import (
    answer_lines,
    cannot_words,
    coat_words,
    excluded_words,
    found_words,
    look_words,
    repair_step_words,
    unlike_words,
)
from finplan.typesetting import rendered

_LONGEST = 60
"""Letters of a step or a fault, as they are sent."""


@dataclass(frozen=True, slots=True)
class FaultShown:
    """A fault of a coat in words, as the page lays it out."""

    name: str
    title: str
    looks: str
    unlike: tuple[str, ...]
    cannot: str
    found: tuple[str, ...]
    to_look_for: tuple[str, ...]
    excluded: tuple[str, ...]
    answer: tuple[tuple[str, str], ...]
    steps: tuple[str, ...]
    share: str
    """How much is usual, as it is typed."""


@dataclass(frozen=True)
class FaultPages:
    """The routes of what went wrong with the coats of one folder."""

    session: Workbench
    jobs: Jobs

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        path = "/piece/{name}/bench/fault"
        routes.add_api_route(path, self.look, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route(path, self.repair, methods=["POST"], response_class=HTMLResponse)
        return routes

    def look(
        self,
        name: str,
        ways: WaysOpen,
        step: Annotated[str, Query(max_length=_LONGEST)] = "",
        fault: Annotated[str, Query(max_length=_LONGEST)] = "",
    ) -> Response:
        """Show what can be wrong with a coat, or one fault of it."""
        return self._page(name, ways, step, fault)

    def repair(self, name: str, sent: Sent, ways: WaysOpen) -> Response:
        """Plan the repair of a fault, and go back to the bench."""
        step, fault = (sent.get(field, "")[:_LONGEST] for field in ("step", "fault"))
        share = sent.get("share", "").strip()[:_LONGEST]
        try:
            clashes = self.jobs.mend(name, step, fault, f"{share} %" if share else None, seen_of(sent).plan)
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            status = 409 if isinstance(error, MeanwhileError) else 422
            return self._page(name, ways, step, fault, status, wrong=(str(error),))
        if clashes:
            return self._page(name, ways, step, fault, 422, wrong=clashes)
        return RedirectResponse(f"/piece/{name}/bench", 303)

    def _page(
        self,
        name: str,
        ways: Sequence[str],
        step: str,
        fault: str,
        status: int = 200,
        *,
        wrong: Sequence[str] = (),
    ) -> Response:
        with self.jobs.opened(name) as (ledger, held, pieces):
            scene, called = scene_of(ledger, held, pieces, step, self.session.now())
        every = faults_at(scene) if not fault else ()
        page = rendered(
            "page/fault.html",
            name=name,
            ways=ways,
            title=", ".join(piece.name for piece in scene.plan.pieces if not piece.sample),
            step=called,
            coat=coat_words(scene),
            plan_id=held.id,
            fault=_shown(looked_at(scene, fault, called), scene) if fault else None,
            faults=[_shown(diagnosis, scene) for diagnosis in every if diagnosis.answer is not None],
            wrong=wrong,
        )
        return HTMLResponse(page, status)


def _shown(told: Diagnosis, scene: Scene) -> FaultShown:
    answer = told.answer
    return FaultShown(
        name=told.name,
        title=told.record.title,
        looks=told.record.looks,
        unlike=tuple(unlike_words(told)),
        cannot=cannot_words(told),
        found=tuple(found_words(cause, scene) for cause in told.found),
        to_look_for=tuple(look_words(cause, scene) for cause in told.to_look_for),
        excluded=tuple(excluded_words(cause, scene) for cause in told.excluded),
        answer=tuple(answer_lines(told)),
        steps=() if answer is None else tuple(repair_step_words(step, scene) for step in answer.steps),
        share="" if answer is None else f"{answer.share:g}",
    )
