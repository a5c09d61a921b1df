"""Whether the steps beside the coats that a piece file asks for can be had, and where they are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from finplan.catalogue import AFTER, BEFORE, ExtraStep
from finplan.inputs.asked_step import AskedStep
from finplan.inputs.piece import Piece
from finplan.problems import Finding, Where, did_you_mean, shown

STRIPS = "strip-"
"""What the names of steps that take an old coating off begin with."""
_When = Literal["before", "after"]


def wrong_with_asked(piece: Piece, known: Mapping[str, ExtraStep]) -> Iterator[Finding]:
    """Give what is wrong with the steps beside the coats that a file asks for.

    Parameters
    ----------
    piece
        What was read of it
    known
        The steps of the catalogue, by name
    """
    one_item = len(piece.items()) == 1
    for when in ("before", "after"):
        yield from _wrong(getattr(piece, when), (when,), known, counted=one_item)
        for group, members in (("assemblies", piece.assemblies), ("parts", piece.parts)):
            for name, member in members.items():
                yield from _wrong(getattr(member, when) or (), (group, name, when), known)
    ways = [name.removeprefix(STRIPS) for name in known if name.startswith(STRIPS)]
    if piece.strip is not None and piece.strip not in ways:
        wrong = f"{shown(piece.strip)} is no way to take an old coating off"
        yield Finding(("refinish", "strip"), wrong, did_you_mean(piece.strip, ways))


def _wrong(
    asked: Iterable[AskedStep],
    where: Where,
    known: Mapping[str, ExtraStep],
    *,
    counted: bool = True,
) -> Iterator[Finding]:
    here: _When = "before" if where[-1] == "before" else "after"
    phases = BEFORE if here == "before" else AFTER
    for index, one in enumerate(asked):
        path = (*where, index)
        step = known.get(one.name)
        if step is None:
            fitting = [name for name, record in known.items() if record.when in phases]
            yield Finding(path, f"{shown(one.name)} is not among the extra-steps", did_you_mean(one.name, fitting))
        elif step.when not in (*BEFORE, *AFTER):
            yield Finding(path, f"{shown(one.name)} only mends a coat that went wrong", "leave it out")
        elif step.when not in phases:
            other = "after" if here == "before" else "before"
            yield Finding(path, f"{shown(one.name)} does not come {here} the coats", f"write it in {other}:")
        elif one.count is not None and step.each_h is None:
            yield Finding(path, f"{shown(one.name)} is not counted", "leave its number out")
        elif one.count is not None and not counted and step.when != "together":
            yield Finding(path, f"it is not said on which item the {one.count} are", f"write it in {here}: of the part")
