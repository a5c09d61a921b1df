"""The JSON interface: the same operations and results as the pages, for other programs. OpenAPI describes it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from fastapi import APIRouter

from finplan.page.api_told import (
    REFUSALS,
    ChangesAsked,
    DaysTold,
    EditAsked,
    FactTold,
    FigureTold,
    FileName,
    HelpTold,
    NewAsked,
    PieceList,
    PieceTold,
    ProblemTold,
    ShopAsked,
    ShopTold,
    StepAsked,
    TextAsked,
)
from finplan.page.days import DaysView
from finplan.page.helps import Writes
from finplan.page.opened import Opened
from finplan.page.workbench import View
from finplan.problems import Problem


@dataclass(frozen=True)
class Api:
    """The routes of the JSON interface of one folder."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(prefix="/api", responses=REFUSALS)
        routes.add_api_route("/pieces", self.pieces, methods=["GET"], summary="The piece files of the folder")
        routes.add_api_route("/pieces", self.create, methods=["POST"], status_code=201, summary="A new piece file")
        routes.add_api_route("/pieces/{name}", self.piece, methods=["GET"], summary="A piece and what comes of it")
        routes.add_api_route("/pieces/{name}", self.write, methods=["PUT"], summary="Another text in its place")
        routes.add_api_route("/pieces/{name}/edits", self.edit, methods=["POST"], summary="Make an edit")
        routes.add_api_route(
            "/pieces/{name}/changes", self.change, methods=["POST"], summary="Make several in one step"
        )
        routes.add_api_route("/pieces/{name}/undo", self.undo, methods=["POST"], summary="Undo the last edit")
        routes.add_api_route("/pieces/{name}/redo", self.redo, methods=["POST"], summary="Redo it")
        routes.add_api_route("/pieces/{name}/days", self.days, methods=["GET"], summary="Its timetable so far")
        routes.add_api_route("/shop", self.shop, methods=["GET"], summary="The shop file")
        routes.add_api_route("/shop", self.write_shop, methods=["PUT"], summary="Another text of it, or the first one")
        return routes

    def pieces(self) -> PieceList:
        """Return the names of the piece files of the folder."""
        return PieceList(pieces=self.opened.session.folder.names())

    def create(self, asked: NewAsked) -> PieceTold:
        """Write a new piece file; never in the place of one that is there."""
        return _told(self.opened.seen(self.opened.session.create(asked.name, asked.words)))

    def piece(self, name: FileName) -> PieceTold:
        """Return a piece as its file says it now."""
        return _told(self.opened.session.view(name))

    def write(self, name: FileName, asked: TextAsked) -> PieceTold:
        """Write a whole text, right or wrong, in the place of the one that it was made on."""
        return _told(self.opened.seen(self.opened.session.write(name, asked.words, asked.digest)))

    def edit(self, name: FileName, asked: EditAsked) -> PieceTold:
        """Make an edit; what it does not touch stays byte for byte."""
        return _told(self.opened.seen(self.opened.session.take(name, asked.edit, asked.digest)))

    def change(self, name: FileName, asked: ChangesAsked) -> PieceTold:
        """Make edits of a piece file and of the shop file, all of them or none; one undo takes them back."""
        writes = Writes(tuple(asked.piece), tuple(asked.shop))
        return _told(self.opened.seen(self.opened.session.take_all(name, writes, asked.digest, asked.shop_digest)))

    def undo(self, name: FileName, asked: StepAsked) -> PieceTold:
        """Put the text before the last edit back."""
        return _told(self.opened.seen(self.opened.session.step(name, -1, asked.digest)))

    def redo(self, name: FileName, asked: StepAsked) -> PieceTold:
        """Put the text after it back again."""
        return _told(self.opened.seen(self.opened.session.step(name, 1, asked.digest)))

    def days(self, name: FileName) -> DaysTold:
        """Return how far the timetable is; asking for it has it planned."""
        view = self.opened.seen(self.opened.session.view(name))
        shown = self.opened.days(view)
        known = None if shown.old else shown.view
        state: Literal["planning", "bettering", "planned"]
        state = "planned" if not shown.doing else "planning" if known is None else "bettering"
        told = known or DaysView(None)
        facts = [] if told.sheet is None else told.sheet.first.facts
        return DaysTold(
            digest=view.text.digest,
            state="refused" if shown.failed else state,
            doing=shown.doing or shown.failed,
            fits=None if known is None else known.fits,
            facts=[FactTold(name=fact.name, value=fact.value) for fact in facts],
            chance=list(told.chance),
            clashes=list(told.clashes),
            would_help=[
                HelpTold(words=way.words, told=list(way.told), piece=list(way.writes.piece), shop=list(way.writes.shop))
                for way in told.would_help
            ],
        )

    def shop(self) -> ShopTold:
        """Return the text of the shop file, with what is wrong or unlikely in it."""
        session = self.opened.session
        text, problems = session.folder.shop_text(), session.shop_problems()
        told = _problems(problems)
        return ShopTold(
            words=None if text is None else text.words, digest=None if text is None else text.digest, problems=told
        )

    def write_shop(self, asked: ShopAsked) -> ShopTold:
        """Write the shop file, right or wrong, in the place of the text that it was made on."""
        self.opened.session.folder.put_shop(asked.words, asked.digest)
        return self.shop()


def _told(view: View) -> PieceTold:
    return PieceTold(
        name=view.text.name,
        words=view.text.words,
        digest=view.text.digest,
        shop_digest=view.shop,
        problems=_problems(view.reckoned.problems),
        figures=[
            FigureTold(group=figure.group, name=figure.name, value=figure.value) for figure in view.reckoned.figures
        ],
        can_undo=view.can_undo,
        can_redo=view.can_redo,
    )


def _problems(problems: Iterable[Problem]) -> list[ProblemTold]:
    return [
        ProblemTold(
            line=problem.line,
            column=problem.column,
            where=problem.where,
            wrong=problem.wrong,
            expected=problem.expected,
            severity=problem.severity,
        )
        for problem in problems
    ]
