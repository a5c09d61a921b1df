"""How sure it is that what is bought is enough, in words."""

from __future__ import annotations

from finplan.material import CauseKind, Supply, SurerDeed
from finplan.quantity import Units
from finplan.showing import plain, show_amount

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


def surer_words(supply: Supply, confidence: float, units: Units) -> str:
    """Return the one thing that would make an amount surer, and by how much; nothing where nothing would."""
    if supply.surer is None:
        return ""
    then = show_amount(supply.surer.at_confidence, supply.measure, units)
    now = show_amount(supply.at_confidence, supply.measure, units)
    deed = _DEEDS[supply.surer.deed].format(measure=_ON_LABELS[units])
    return f"{deed}: should it go as usual, {then} are enough with {plain(confidence * 100)} %, not {now}."
