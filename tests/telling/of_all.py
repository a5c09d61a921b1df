"""Looks for what data, terminal and sheet tell differently of a plan as a whole: the order of sanding, and rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from finplan.cli.safety import safety_lines
from finplan.cli.sanding import sanding_lines
from finplan.planning import Plan, dust_of
from finplan.sheet import appendix_html
from tests.telling.read_back import text_of

_STAGES = {"before-assembly": "before gluing up, ", "after-assembly": "when glued up, "}


def of_all(plan: Plan, data: Mapping[str, Any], page: str) -> Iterator[str]:
    """Give everything of all of a plan that one tells and another contradicts, in words."""
    page = squeezed(page)
    for piece, told in zip(plan.pieces, data["pieces"], strict=True):
        terminal = squeezed("\n".join(sanding_lines(piece.sanding, piece.source, dust_of(piece))))
        for step in told["sanding"]["order"]:
            label = f"sand the {step['joints']} joints" if step["joints"] > 1 else step["label"]
            stage = {"before-assembly": "before gluing up, ", "after-assembly": "when glued up, "}.get(
                step["stage"], ""
            )
            for where, words in (("terminal", terminal), ("sheet", page)):
                for line in (f"{stage}{label}", step["reason"]):
                    if squeezed(line) not in words:
                        yield f"{where}: {step['id']} does not say in the order of sanding: {line}"
    terminal, page = squeezed("\n".join(safety_lines(plan))), squeezed(text_of(appendix_html(plan)))
    for rule in data["safety"]["voc"]:
        holds = f"{rule['voc_g_l']['low']:.3g} to {rule['voc_g_l']['high']:.3g}"
        for where, words in (("terminal", terminal), ("appendix", page)):
            for line in (f"{rule['limit_g_l']:g} g/l", holds):
                if line not in words:
                    yield f"{where}: {rule['finish']} does not say of {rule['jurisdiction']}: {line}"


def squeezed(words: str) -> str:
    """Return words in small letters, a space between each, however they are broken."""
    return " ".join(words.casefold().split())
