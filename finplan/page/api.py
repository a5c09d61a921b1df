"""The JSON interface: the same operations and results as the pages, for other programs. OpenAPI describes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Path
from pydantic import BaseModel, ConfigDict, Field

from finplan.page.days import days_data
from finplan.page.edits import AddItem, AddPart, RemoveValue, RenamePart, SetValue
from finplan.page.folder import MAX_BYTES
from finplan.page.opened import Opened
from finplan.page.workbench import View

FileName = Annotated[str, Path(max_length=120, description="The name of a piece file: round-table.yaml")]
Digest = Annotated[str, Field(max_length=64, description="Of the text that it was made on")]


class ProblemTold(BaseModel):
    """Something wrong, or possible but unlikely."""

    line: int
    column: int
    where: Annotated[str, Field(description="The field: parts.top.thickness")]
    wrong: str
    expected: str
    severity: Literal["error", "warning"]


class FigureTold(BaseModel):
    """One thing that comes of a piece, as it is worded on the sheet."""

    group: Literal["surface", "buy", "sand"]
    name: str
    value: str


class PieceTold(BaseModel):
    """A piece file and what is known of it at once."""

    name: str
    words: Annotated[str, Field(description="The text of the file")]
    digest: str
    problems: list[ProblemTold]
    figures: list[FigureTold]
    can_undo: bool
    can_redo: bool


class DaysTold(BaseModel):
    """How far the timetable of a piece is, and what it says."""

    digest: str
    state: Literal["planning", "bettering", "planned", "refused"]
    doing: str
    fits: bool | None
    facts: list[dict[str, str]]
    chance: list[str]
    clashes: list[str]


class PieceList(BaseModel):
    """The piece files of the folder."""

    pieces: list[str]


class EditAsked(BaseModel):
    """An edit of a text."""

    model_config = ConfigDict(extra="forbid")
    digest: Digest
    edit: Annotated[SetValue | AddItem | RemoveValue | RenamePart | AddPart, Field(discriminator="do")]


class TextAsked(BaseModel):
    """A whole text in the place of one."""

    model_config = ConfigDict(extra="forbid")
    digest: Digest
    words: Annotated[str, Field(max_length=MAX_BYTES)]


class NewAsked(BaseModel):
    """A new piece file."""

    model_config = ConfigDict(extra="forbid")
    name: Annotated[str, Field(max_length=120)]
    words: Annotated[str, Field(max_length=MAX_BYTES)]


class StepAsked(BaseModel):
    """Undo or redo."""

    model_config = ConfigDict(extra="forbid")
    digest: Digest


class Refused(BaseModel):
    """Why something was not done."""

    detail: str


_REFUSALS: dict[int | str, dict[str, object]] = {
    403: {"description": "Not let in"},
    404: {"model": Refused, "description": "There is no such piece"},
    409: {"model": Refused, "description": "The file says something else than what this was made on"},
    413: {"description": "More was sent than is taken"},
}


@dataclass(frozen=True)
class Api:
    """The routes of the JSON interface of one folder."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(prefix="/api", responses=_REFUSALS)
        routes.add_api_route("/pieces", self.pieces, methods=["GET"], summary="The piece files of the folder")
        routes.add_api_route("/pieces", self.create, methods=["POST"], status_code=201, summary="A new piece file")
        routes.add_api_route("/pieces/{name}", self.piece, methods=["GET"], summary="A piece and what comes of it")
        routes.add_api_route("/pieces/{name}", self.write, methods=["PUT"], summary="Another text in its place")
        routes.add_api_route("/pieces/{name}/edits", self.edit, methods=["POST"], summary="Make an edit")
        routes.add_api_route("/pieces/{name}/undo", self.undo, methods=["POST"], summary="Undo the last edit")
        routes.add_api_route("/pieces/{name}/redo", self.redo, methods=["POST"], summary="Redo it")
        routes.add_api_route("/pieces/{name}/days", self.days, methods=["GET"], summary="Its timetable so far")
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
        there = shown.view is not None and not shown.old
        state: Literal["planning", "bettering", "planned"]
        state = "planned" if not shown.doing else "bettering" if there else "planning"
        data = days_data(shown.view) if there and shown.view is not None else {}
        return DaysTold(
            digest=view.text.digest,
            state="refused" if shown.failed else state,
            doing=shown.doing or shown.failed,
            fits=data.get("fits"),
            facts=data.get("facts", []),
            chance=data.get("chance", []),
            clashes=data.get("clashes", []),
        )


def _told(view: View) -> PieceTold:
    return PieceTold(
        name=view.text.name,
        words=view.text.words,
        digest=view.text.digest,
        problems=[
            ProblemTold(
                line=one.line,
                column=one.column,
                where=one.where,
                wrong=one.wrong,
                expected=one.expected,
                severity=one.severity,
            )
            for one in view.found.problems
        ],
        figures=[FigureTold(group=one.group, name=one.name, value=one.value) for one in view.found.figures],
        can_undo=view.can_undo,
        can_redo=view.can_redo,
    )
