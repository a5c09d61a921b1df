"""What is published of a finish that food or children touch, in words."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.planning import Plan
from finplan.showing import capital
from finplan.telling.dates import cured_words
from finplan.telling.names import marked

_WHOM = {"food": "food", "child": "children"}


def contact_words(plan: Plan) -> Iterator[str]:
    """Give a sentence for every item that food or children touch, and from when its finish has cured."""
    items = {treatment.in_plan: marked(treatment.item, plan.piece_of(treatment), plan) for treatment in plan.treatments}
    for line in plan.safety.contact:
        cured = f" {capital(cured_words(line.cured))}." if line.cured else ""
        yield f"{capital(items[line.item])}, contact with {_WHOM[line.contact]}: {line.text}{cured}"
