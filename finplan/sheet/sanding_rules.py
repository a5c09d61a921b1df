"""What stands once at the head of the sanding page, in two columns."""

from __future__ import annotations

from finplan.planning import Plan
from finplan.sheet.halves import halves
from finplan.telling import GritRule, sanding_rules, stop_reasons


def rules_in_two_columns(plan: Plan) -> tuple[tuple[GritRule, ...], tuple[GritRule, ...]]:
    """Return what stands at the head of the sanding page, as two columns; both empty where nothing is sanded."""
    rules = sanding_rules(plan)
    stops = (GritRule("Where it stops", " ".join(stop_reasons(plan))),) if rules else ()
    return halves((*rules, *stops), lambda rule: len(rule.of) + len(rule.words))
