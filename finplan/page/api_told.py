"""What the JSON interface is asked and tells, and how it refuses."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import Path
from pydantic import BaseModel, ConfigDict, Field

from finplan.page.edits import MAX_EDITS, Edit
from finplan.page.folder import MAX_BYTES

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

    group: Literal["surface", "buy", "sand", "danger"]
    name: str
    value: str


class PieceTold(BaseModel):
    """A piece file and what is known of it at once."""

    name: str
    words: Annotated[str, Field(description="The text of the file")]
    digest: str
    shop_digest: Annotated[str | None, Field(description="Of the shop file; null where there is none")]
    problems: list[ProblemTold]
    figures: list[FigureTold]
    can_undo: bool
    can_redo: bool


class FactTold(BaseModel):
    """A fact of the front of the sheet."""

    name: str
    value: str


class HelpTold(BaseModel):
    """What would help where a date is not kept, or not surely; with the edits that do it, for ``changes``."""

    words: str
    told: Annotated[list[str], Field(description="What is written into which file; or why nothing can be")]
    piece: list[Edit]
    shop: list[Edit]


class DaysTold(BaseModel):
    """How far the timetable of a piece is, and what it says."""

    digest: str
    state: Literal["planning", "bettering", "planned", "refused"]
    doing: str
    fits: bool | None
    facts: list[FactTold]
    chance: list[str]
    clashes: list[str]
    would_help: list[HelpTold]


class PieceList(BaseModel):
    """The piece files of the folder."""

    pieces: list[str]


class EditAsked(BaseModel):
    """An edit of a text."""

    model_config = ConfigDict(extra="forbid")
    digest: Digest
    edit: Edit


class ChangesAsked(BaseModel):
    """Edits of a piece file and of the shop file, all of them in one step or none."""

    model_config = ConfigDict(extra="forbid")
    digest: Digest
    shop_digest: Annotated[str | None, Field(max_length=64, description="Of the text of the shop file")] = None
    piece: Annotated[list[Edit], Field(max_length=MAX_EDITS)] = []
    shop: Annotated[list[Edit], Field(max_length=MAX_EDITS)] = []


class ShopTold(BaseModel):
    """The shop file; no words where there is none."""

    words: str | None
    digest: str | None
    problems: list[ProblemTold]


class ShopAsked(BaseModel):
    """A whole text of the shop file in the place of one, or where there is none."""

    model_config = ConfigDict(extra="forbid")
    digest: Annotated[str | None, Field(max_length=64, description="Of the text that it was made on; null for none")]
    words: Annotated[str, Field(max_length=MAX_BYTES)]


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
    """Why something was not done: in words, or what of the request is not as it is described."""

    detail: str | list[dict[str, Any]]
    before: Annotated[bool, Field(description="Of a tick: whether it would be taken with believe")] = False


REFUSALS: dict[int | str, dict[str, object]] = {
    403: {"description": "Not let in"},
    404: {"model": Refused, "description": "There is no such piece"},
    409: {"model": Refused, "description": "The file says something else than what this was made on"},
    422: {"model": Refused, "description": "What is asked for cannot be had; says why"},
    413: {"description": "More was sent than is taken"},
}
