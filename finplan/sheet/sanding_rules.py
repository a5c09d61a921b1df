"""What stands once at the head of the sanding page, in two columns."""

from __future__ import annotations

from finplan.planning import Plan
from finplan.sheet.halves import halves
from finplan.telling import GritRule, sanding_rules, stop_reasons


def rules_in_two_columns(plan: Plan) -> tuple[tuple[GritRule, ...], tuple[GritRule, ...]]:
    """Return what stands at the head of the sanding page, as two columns; both empty where nothing is sanded.

    Of the reasons to stop the first alone says of what they are: a column may end between two of them.
    """
    rules = sanding_rules(plan)
    reasons = stop_reasons(plan) if rules else ()
    stops = (GritRule("" if number else "Where it stops", reason) for number, reason in enumerate(reasons))
    return halves((*rules, *stops), lambda rule: len(rule.of) + len(rule.words))
