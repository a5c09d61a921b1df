"""Whether the steps beside the coats that a piece file asks for can be had, and where they are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
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
    yield from _wrong_with_film(piece, known)
    for when in ("before", "after"):
        yield from _wrong(getattr(piece, when), (when,), known, counted=one_item)
        for group, members in (("assemblies", piece.assemblies), ("parts", piece.parts)):
            for name, member in members.items():
                yield from _wrong(getattr(member, when) or (), (group, name, when), known)
    ways = [name.removeprefix(STRIPS) for name in known if name.startswith(STRIPS)]
    if piece.strip is not None and piece.strip not in ways:
        wrong = f"{shown(piece.strip)} is no way to take an old coating off"
        yield Finding(("refinish", "strip"), wrong, did_you_mean(piece.strip, ways))


def _wrong_with_film(piece: Piece, known: Mapping[str, ExtraStep]) -> Iterator[Finding]:
    """Give where an old film is disturbed that is kept, or of which nothing is said, so that nobody asks for lead.

    And what is done to bare wood alone, where a film lies over it that is kept.
    """
    lists: list[tuple[Where, Iterable[AskedStep]]] = [(("before",), piece.before)]
    for group, members in (("assemblies", piece.assemblies), ("parts", piece.parts)):
        lists += [((group, name, "before"), member.before or ()) for name, member in members.items()]
    for where, asked in lists:
        for index, entry in enumerate(asked):
            step = known.get(entry.name)
            if step is not None and step.bare_wood and piece.keep:
                wrong = f"{shown(entry.name)} is done to bare wood, and the old coating over it is kept"
                expected = "leave it out, or write strip: chemical in refinish: in the place of keep: true"
                yield Finding((*where, index), wrong, expected)
            if step is None or not step.disturbs_film:
                continue
            instead = entry.name.removeprefix(STRIPS) if entry.name.startswith(STRIPS) else "chemical"
            if piece.keep:
                wrong = f"{shown(entry.name)} takes off the old coating, which is kept"
                expected = f"leave it out, or write strip: {instead} in refinish: in the place of keep: true"
                yield Finding((*where, index), wrong, expected)
            elif piece.strip is None and piece.built is None and piece.lead_test is None:
                wrong = f"{shown(entry.name)} disturbs an old coating, and nothing is said of that, which may hold lead"
                expected = f"write refinish: {{strip: {instead}, built: YEAR}} in its place, or lead-test: for built:"
                yield Finding((*where, index), wrong, expected)


def _wrong(
    asked: Iterable[AskedStep],
    where: Where,
    known: Mapping[str, ExtraStep],
    *,
    counted: bool = True,
) -> Iterator[Finding]:
    here: _When = "before" if where[-1] == "before" else "after"
    phases = BEFORE if here == "before" else AFTER
    listed = list(asked)
    for index, entry in enumerate(listed):
        path = (*where, index)
        step = known.get(entry.name)
        if step is not None and step.comes_last:
            yield from _after_the_last(listed, index, where, known)
        if step is None:
            fitting = [name for name, record in known.items() if record.when in phases]
            yield Finding(path, f"{shown(entry.name)} is not among the extra-steps", did_you_mean(entry.name, fitting))
        elif step.when not in (*BEFORE, *AFTER):
            yield Finding(path, f"{shown(entry.name)} only mends a coat that went wrong", "leave it out")
        elif step.when not in phases:
            other = "after" if here == "before" else "before"
            yield Finding(path, f"{shown(entry.name)} does not come {here} the coats", f"write it in {other}:")
        elif entry.count is not None and step.each_h is None:
            yield Finding(path, f"{shown(entry.name)} is not counted", "leave its number out")
        elif entry.count is None and step.when == "together" and step.each_h is not None:
            wrong = f"it is not said how many {entry.name} is for, and it is planned as for one"
            expected = f"write {entry.name}: 6, say"
            yield Finding(path, wrong, expected, severity="warning", name="not-counted")
        elif entry.count is not None and not counted and step.when != "together":
            yield Finding(
                path, f"it is not said on which item the {entry.count} are", f"write it in {here}: of the part"
            )


def _after_the_last(
    asked: Sequence[AskedStep], last: int, where: Where, known: Mapping[str, ExtraStep]
) -> Iterator[Finding]:
    """Give what is asked for after a step that ends the work: only somebody else, the customer, has a part then."""
    packs = asked[last].name
    for index, entry in enumerate(asked[last + 1 :], start=last + 1):
        record = known.get(entry.name)
        if record is not None and record.when == known[packs].when and record.present is None:
            wrong = f"{shown(entry.name)} comes after {shown(packs)}, when the work on it is over"
            yield Finding((*where, index), wrong, f"write {packs} last")
