"""How sure it is that what is bought is enough, in words."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.material import CauseKind, Supply, SurerDeed
from finplan.quantity import Units
from finplan.showing import plain, show_amount
from finplan.telling.packs import short_title

_CAUSES: dict[CauseKind, str] = {
    "product": "how far this product goes",
    "hand": "hand and tool",
    "wood": "the wood",
    "coat": "coat to coat",
}
_DEEDS: dict[SurerDeed, str] = {
    "weigh": "Weigh the can or jar before and after the first coat",
    "label": "Read off the label how far a {measure} goes, and put that into the shop file",
}
_ON_LABELS: dict[Units, str] = {"metric": "litre", "us": "gallon"}
_TOLD = 0.01
"""Of the spread: a smaller share is not told."""


def cause_words(supply: Supply) -> str:
    """Return what makes an amount uncertain, the largest share first; nothing where it is certain."""
    told = sorted((share for share in supply.shares if share[1] >= _TOLD), key=lambda share: -share[1])
    causes = ", ".join(f"{_CAUSES[kind]} {share:.0%}".replace("%", " %") for kind, share in told)
    weighed = weighed_words(supply)
    return f"{causes}; the amount is {weighed}" if causes and weighed else causes


def weighed_words(supply: Supply) -> str:
    """Return on how many weighed coats of this shop an amount rests; nothing where it is the catalogue's alone."""
    weighed = supply.weighed_coats
    return f"from {weighed} weighed coat{'' if weighed == 1 else 's'} of this shop" if weighed else ""


def surer_together(supplies: Sequence[Supply], confidence: float, units: Units) -> tuple[str, ...]:
    """Return what would make amounts surer, and by how much: what is the same for several is told once."""
    by_deed: dict[SurerDeed, list[Supply]] = {}
    for supply in supplies:
        if supply.surer is not None:
            by_deed.setdefault(supply.surer.deed, []).append(supply)
    return tuple(
        f"{short_title(alike[0].title)}: {surer_words(alike[0], confidence, units)}"
        if len(alike) == 1
        else f"{_deed(deed, units)}. Should it go as usual, these are enough with {plain(confidence * 100)} %: "
        + "; ".join(f"{short_title(of.title)} {_then(of, units)}, not {_now(of, units)}" for of in alike)
        + "."
        for deed, alike in by_deed.items()
    )


def _deed(deed: SurerDeed, units: Units) -> str:
    return _DEEDS[deed].format(measure=_ON_LABELS[units])


def surer_words(supply: Supply, confidence: float, units: Units) -> str:
    """Return the one thing that would make an amount surer, and by how much; nothing where nothing would."""
    if supply.surer is None:
        return ""
    deed, then, now = _deed(supply.surer.deed, units), _then(supply, units), _now(supply, units)
    return f"{deed}: should it go as usual, {then} are enough with {plain(confidence * 100)} %, not {now}."


def _then(supply: Supply, units: Units) -> str:
    return "" if supply.surer is None else show_amount(supply.surer.at_confidence, supply.measure, units)


def _now(supply: Supply, units: Units) -> str:
    return show_amount(supply.at_confidence, supply.measure, units)
