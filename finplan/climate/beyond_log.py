"""Where a plan reaches beyond the days of a log, and what stands for the air there."""

from __future__ import annotations

from datetime import datetime

from finplan.inputs import Climate
from finplan.problems import Finding


def log_findings(climate: Climate, start: datetime, end: datetime) -> list[Finding]:
    """Return a warning for either end at which a plan reaches beyond the rows of the shop's log.

    Parameters
    ----------
    climate
        The air of the shop; other than a log, it knows every day
    start, end
        Of the plan; they know their time zone

    Returns
    -------
    list[Finding]
        Their path in the shop file
    """
    if climate.log is None:
        return []
    first, last = climate.log[0].when, climate.log[-1].when
    findings: list[Finding] = []
    if start < first:
        wrong = f"the log begins on {first:%Y-%m-%d %H:%M}, after the plan"
        findings.append(_warning(wrong, "its first reading stands for the time before"))
    if end > last:
        wrong = f"the log ends on {last:%Y-%m-%d %H:%M}, before the plan"
        findings.append(
            _warning(wrong, "its last 24 hours are repeated for the days after; a forecast may go on from there")
        )
    return findings


def _warning(wrong: str, expected: str) -> Finding:
    return Finding(("climate", "log"), wrong, expected, severity="warning", name="log-too-short")
