"""The ids of what is done: made here, and taken apart nowhere.

Whoever has to know what an id is of finds that in the fields beside it: the piece's key, item, step, side, deed. A
maker types ids, and reads them in the data, so they say what they are of: ``hall-bench/seat/hardwax-oil/3``.
"""

from __future__ import annotations

from typing import Literal

Side = Literal["", "first-side", "second-side"]
"""Of a coat that is put on one side at a time, which; empty where it is put on all faces at once."""
FIRST_SIDE: Side = "first-side"
SECOND_SIDE: Side = "second-side"


def piece_key(name: str) -> str:
    """Return what goes before all ids of a piece, where several are planned together.

    >>> piece_key("hall-bench")
    'hall-bench/'
    """
    return f"{name}/"


def sample_called(piece: str) -> str:
    """Return what the sample board of a piece is called in ids, by what the piece is: no file has a stroke in its name.

    >>> sample_called("hall-bench"), sample_called("")
    ('hall-bench/sample', 'sample')
    """
    return f"{piece}/sample" if piece else "sample"


def in_plan(key: str, name: str) -> str:
    """Return what an item or a part is called in a plan of several pieces: by its name behind the key of its piece.

    >>> in_plan("hall-bench/", "seat"), in_plan("", "seat")
    ('hall-bench/seat', 'seat')
    """
    return f"{key}{name}"


def item_stem(key: str, item: str, number: int) -> str:
    """Return what all ids of an item begin with; of a piece of a set, by its number.

    >>> item_stem("hall-bench/", "seat", 0), item_stem("", "chair", 3)
    ('hall-bench/seat', 'chair#3')
    """
    return in_plan(key, f"{item}#{number}" if number else item)


def step_id(stem: str, system: str, name: str) -> str:
    """Return the id of a step of a system, by its place in the recipe, counted from 1, or of one beside its coats.

    >>> step_id("seat", "hardwax-oil", "3"), step_id("seat", "hardwax-oil", "steam-dents")
    ('seat/hardwax-oil/3', 'seat/hardwax-oil/steam-dents')
    """
    return f"{stem}/{system}/{name}"


def work_id(stem: str, name: str) -> str:
    """Return the id of work on an item that is no step of a system, or of what hangs on one.

    >>> work_id("seat", "glue-up"), work_id("seat/hardwax-oil/3", "clean-up")
    ('seat/glue-up', 'seat/hardwax-oil/3/clean-up')
    """
    return f"{stem}/{name}"


def side_id(step: str, side: Side) -> str:
    """Return the id of a coat on one side; of what is put on all faces at once that of the step.

    >>> side_id("door/lacquer/2", FIRST_SIDE), side_id("door/lacquer/2", "")
    ('door/lacquer/2/first-side', 'door/lacquer/2')
    """
    return work_id(step, side) if side else step


def drying_id(coat: str) -> str:
    """Return the id of the row in which a coat dries.

    >>> drying_id("seat/hardwax-oil/3")
    'seat/hardwax-oil/3/dry'
    """
    return work_id(coat, "dry")


def numbered_id(work: str, number: int) -> str:
    """Return the id of work that is done several times to one item, by which time it is, counted from 1.

    >>> numbered_id("seat/old-paint-wipe-down", 1), numbered_id("seat/old-paint-wipe-down", 2)
    ('seat/old-paint-wipe-down', 'seat/old-paint-wipe-down-2')
    """
    return work if number == 1 else f"{work}-{number}"


def whole_piece_id(key: str, name: str, number: int) -> str:
    """Return the id of what is done to a whole piece.

    >>> whole_piece_id("hall-bench/", "put-together", 0), whole_piece_id("", "put-together", 2)
    ('hall-bench/put-together', 'put-together#2')
    """
    return item_stem(key, name, number)
