"""How a part is sanded, in words: its grades one after the other, what is otherwise, and how long that takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from finplan.listing import listed
from finplan.quantity import Range
from finplan.sanding import GroupSanding, OrderStep
from finplan.showing import capital
from finplan.spans import show_work
from finplan.system import FaceGroup
from finplan.telling.other_work import STAGES


def usual_grits(groups: Sequence[GroupSanding]) -> tuple[str, ...]:
    """Return the grades of most groups of faces, the first of those that are as many."""
    counted = Counter(_grits(sanded) for sanded in groups)
    return max(counted, key=lambda grits: counted[grits])


def sequence_words(groups: Sequence[GroupSanding]) -> str:
    """Return the grades of a part, coarse first, and of which faces they are others."""
    usual = usual_grits(groups)
    others: dict[tuple[str, ...], list[str]] = {}
    for sanded in groups:
        if _grits(sanded) != usual:
            others.setdefault(_grits(sanded), []).extend(_faces(sanded.group))
    told = [f"{listed(faces)} {_said(grits)}" for grits, faces in others.items()]
    return f"{_said(usual)}. Otherwise: {'; '.join(told)}." if told else f"{_said(usual)}."


def part_work_words(groups: Iterable[GroupSanding], pieces: int) -> str:
    """Return how long sanding a part takes with picking it up and turning it, of several pieces all of them and one."""
    hours = Range.total(sanded.hours for sanded in groups)
    if pieces == 1:
        return f"in all {show_work(hours)}"
    return f"all {pieces}: {show_work(hours)}, one: {show_work(hours.scaled(1 / pieces))}"


def _faces(group: FaceGroup) -> list[str]:
    return [f"{face} ({group.board})" if group.board else face for face in group.faces]


def _grits(sanded: GroupSanding) -> tuple[str, ...]:
    return tuple(step.grit for step in sanded.steps)


def _said(grits: Sequence[str]) -> str:
    return f"{grits[0]} only" if len(grits) == 1 else ", ".join(grits)


def order_words(step: OrderStep) -> str:
    """Return what is done at a step of the order, and before or after gluing up, in the middle of a sentence."""
    stage = STAGES[step.stage]
    label = f"sand the {step.joints} joints" if step.joints > 1 else step.label
    return f"{stage}, {label}" if stage else label


def order_sentence(step: OrderStep) -> str:
    """Return a step of the order as a sentence, with the faces that are masked, and why it comes there."""
    faces = [name.removeprefix(f"{step.item}: ") for name in step.faces]
    named = f" ({listed(faces)})" if step.do == "mask" else ""
    return capital(f"{order_words(step)}{named}: {step.reason}.")
