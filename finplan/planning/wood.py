"""What the air of a shop does to the wood: apart from the other surroundings, so that ``check`` loads only this."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from finplan.climate import Weather, moisture_findings
from finplan.planning.piece import PlannedPiece
from finplan.problems import Problem


def wood_risks(pieces: Sequence[PlannedPiece], start: datetime) -> tuple[Problem, ...]:
    """Return the warning about what the air of the shop does to the wood, where work begins at *start*.

    The default shop is nobody's; nothing is said of its air.
    """
    shop_file, catalogue = pieces[0].source.shop_file, pieces[0].source.catalogue
    if shop_file.document is None:
        return ()
    weather = Weather(shop_file.shop.climate, shop_file.shop.time_zone)
    steps = (step for piece in pieces for treatment in piece.treatments for step in treatment.steps)
    names = dict.fromkeys(step.finish for step in steps if step.finish)
    finishes = [catalogue.finishes[name] for name in names]
    findings = moisture_findings(weather, start, finishes, catalogue)
    return tuple(shop_file.document.problem(finding) for finding in findings)
