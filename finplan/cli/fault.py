"""What is wrong with a coat, on the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from finplan.bench import Repaired
from finplan.faults import Diagnosis, Scene
from finplan.showing import capital
from finplan.telling import (
    answer_lines,
    cannot_words,
    coat_words,
    cost_words,
    excluded_words,
    fault_head,
    found_words,
    look_words,
    moved_words,
    repair_head,
    repair_step_words,
    unlike_words,
)

_WIDTH = 100
_HEAD = 12
"""Letters of what a line is headed by."""


def fault_lines(told: Diagnosis, called: str) -> list[str]:
    """Return a fault of the coat at a step, for a person."""
    lines = [*wrap(f"Step {called}: {fault_head(told)}", _WIDTH), "", *_headed("Looks", told.record.looks)]
    for words in unlike_words(told):
        lines += _headed("Not to be", f"taken for {words[:1].lower() + words[1:]}")
    if told.answer is None:
        return [*lines, "", *wrap(cannot_words(told), _WIDTH)]
    scene = told.scene
    lines += [
        "",
        *_listed("Borne out by this plan and its record", (found_words(cause, scene) for cause in told.found)),
    ]
    lines += [line for cause in told.found[:1] for line in (*_headed("Next time", cause.record.avoid), "")]
    lines += _listed("Not to be told from the plan; look", (look_words(cause, scene) for cause in told.to_look_for))
    lines += _listed("Ruled out", (excluded_words(cause, scene) for cause in told.excluded))
    lines += [line for head, words in answer_lines(told) for line in _headed(head, words)]
    steps = [f"{number}. {repair_step_words(step, scene)}" for number, step in enumerate(told.answer.steps, 1)]
    return [*lines, "", *_listed("The repair, step by step; --repair plans it", steps, "")[:-1]]


def faults_lines(told: Sequence[Diagnosis], scene: Scene, called: str) -> list[str]:
    """Return every fault that can occur at a step, and those that cannot, for a person."""
    can = [diagnosis for diagnosis in told if diagnosis.answer is not None]
    width = max(len(diagnosis.name) for diagnosis in told) + 2
    lines = [*wrap(f"Step {called}: {coat_words(scene)}. What can be wrong with it, by what bears it out:", _WIDTH), ""]
    for fault in can:
        lines += _columns(fault.name, fault.record.looks, width)
    lines += ["", "What cannot occur in this finish:", ""]
    for fault in told:
        if fault.answer is None and fault.cannot is not None:
            lines += _columns(fault.name, f"{capital(fault.cannot.because)}.", width)
    return lines


def repair_lines(mended: Repaired, told: Diagnosis, called: str) -> list[str]:
    """Return a repair that was planned or taken back, with what it moves and costs, for a person."""
    plan = mended.plan
    moved = moved_words(plan)
    if mended.taken_back:
        lines = [f"Step {called}: the repair of {mended.entry.fault} is taken back. The entry stays in the record."]
    else:
        lines = wrap(f"Step {called}: {fault_head(told)}", _WIDTH)
        for steps in mended.steps:
            lines += wrap(repair_head(steps, mended.entry.share, plan), _WIDTH)
        lines += [line for words in cost_words(mended.operations, mended.before, plan) for line in wrap(words, _WIDTH)]
    if moved is not None:
        lines += ["", f"{moved.title}:", *_items(moved.lines, "- ")]
        lines += [line for words in moved.ready for line in wrap(words, _WIDTH)]
    return lines


def _headed(head: str, words: str) -> list[str]:
    return wrap(words, _WIDTH, initial_indent=f"{head:<{_HEAD}}", subsequent_indent=" " * _HEAD)


def _columns(name: str, words: str, width: int) -> list[str]:
    return wrap(words, _WIDTH, initial_indent=f"{name:<{width}}", subsequent_indent=" " * width)


def _listed(title: str, told: Iterable[str], mark: str = "- ") -> list[str]:
    texts = list(told)
    return [f"{title}:", *_items(texts, mark), ""] if texts else []


def _items(told: Sequence[str], mark: str) -> Iterator[str]:
    for words in told:
        yield from wrap(words, _WIDTH, initial_indent=f"  {mark}", subsequent_indent=" " * (2 + len(mark)))
