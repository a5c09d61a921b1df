"""A frozen dataclass of ours is what the standard library makes of the same class."""

from __future__ import annotations

import copy
import dataclasses
import math
import pickle
from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from finplan import frozen


class Board:
    """A class with all that a field can be."""

    thick_mm: float
    name: str = "board"
    marks: list[str] = dataclasses.field(default_factory=list)
    drawn: str = dataclasses.field(default="", repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.thick_mm < 0:
            msg = f"{self.name} is too thin"
            raise ValueError(msg)


class One:
    """A class with one field."""

    share: float


class Bare:
    """A class with none."""


@frozen.dataclass(frozen=True, slots=True)
class Step:
    of: str


@frozen.dataclass(frozen=True, slots=True)
class Coat(Step):
    finish: str


def of_both(kind: type, **asked: bool) -> tuple[Any, Any]:
    """Return what the standard library makes of a class, and what is made here."""
    body = {name: held for name, held in vars(kind).items() if name not in ("__dict__", "__weakref__")}
    makers: tuple[Callable[..., Any], ...] = (dataclasses.dataclass, frozen.dataclass)
    theirs, ours = (make(frozen=True, **asked)(type(kind.__name__, (), dict(body))) for make in makers)
    return theirs, ours


def told(do: Callable[[], Any]) -> str:
    """Return what comes of it, an error by its kind and words."""
    try:
        return repr(do())
    except (AttributeError, TypeError, ValueError) as error:
        return f"{type(error).__name__}: {error}"


@pytest.mark.parametrize("slots", [True, False])
@pytest.mark.parametrize("kw_only", [True, False])
@pytest.mark.parametrize(
    ("kind", "given", "named"),
    [
        (Board, (), {"thick_mm": 20.0}),
        (Board, (20.0, "leaf"), {"marks": ["a"]}),
        (Board, (-1.0,), {}),
        (Board, (), {"thick_mm": -1.0, "name": "leaf"}),
        (Board, (), {}),
        (Board, (20.0,), {"thin": 1}),
        (One, (0.5,), {}),
        (One, (), {"share": 0.5}),
        (Bare, (), {}),
        (Bare, (1,), {}),
    ],
)
def test_it_is_made_and_refused_alike(
    kind: type, given: tuple[Any, ...], named: dict[str, Any], *, slots: bool, kw_only: bool
) -> None:
    theirs, ours = of_both(kind, slots=slots, kw_only=kw_only)
    first, second = (told(lambda: ours(*given, **named)) for _ in range(2))
    assert first == second == told(lambda: theirs(*given, **named))


@pytest.mark.parametrize("slots", [True, False])
def test_it_behaves_alike(*, slots: bool) -> None:
    said = []
    for made in of_both(Board, slots=slots):
        board, leaf = made(20.0, drawn="a"), made(20.0, "leaf")
        said.append(
            [
                repr(board),
                board == made(20.0, drawn="b"),
                board == leaf,
                board == Step("sand"),
                board != leaf,
                told(partial(hash, board)),
                told(partial(setattr, board, "name", "leaf")),
                told(partial(delattr, board, "name")),
                dataclasses.asdict(board),
                repr(dataclasses.replace(board, thick_mm=18.0)),
                made.__match_args__,
                hasattr(board, "__dict__"),
                board.marks is leaf.marks,
            ]
        )
        with pytest.raises((AttributeError, TypeError)):
            board.other = "leaf"
    assert said[0] == said[1]


def test_it_is_a_key_by_its_values_and_no_other_kind_is() -> None:
    _, one = of_both(One)
    _, other = of_both(One)
    assert len({one(0.5), one(0.5), one(0.25), other(0.5)}) == 3
    assert hash(one(0.5)) == hash(one(0.5))
    assert one(math.nan) != one(float("nan"))


def test_what_inherits_has_the_fields_of_both_and_is_no_equal_of_what_it_inherits_from() -> None:
    coat = Coat("top", finish="oil")
    assert repr(coat) == "Coat(of='top', finish='oil')"
    assert dataclasses.replace(coat, of="rail") == Coat("rail", "oil")
    assert Step("top") != coat
    assert Coat.__match_args__ == ("of", "finish")


def test_it_is_copied_and_sent_to_other_processes() -> None:
    coat = Coat("top", "oil")
    assert pickle.loads(pickle.dumps(coat)) == copy.copy(coat) == copy.deepcopy(coat) == coat  # noqa: S301 - our own


def test_what_changes_is_left_to_the_standard_library() -> None:
    with pytest.raises(TypeError, match="Bare changes"):
        frozen.dataclass(frozen=False)(Bare)
