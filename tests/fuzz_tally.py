"""What came of hostile and odd files: counted, and the first of each fault told."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field


@dataclass
class Tally:
    """What came of the cases of one sort."""

    sort: str
    statuses: Counter[int] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    told: list[str] = field(default_factory=list)
    longest_s: float = 0.0
    largest_mb: float = 0.0

    def fault(self, number: int, what: str, words: str = "") -> None:
        """Count a fault and keep where it was."""
        self.faults[what] += 1
        if self.faults[what] <= 20:
            self.told.append(f"  {self.sort}:{number}: {what} {words}".rstrip())

    def __str__(self) -> str:
        statuses = ", ".join(f"{count} ended {status}" for status, count in sorted(self.statuses.items()))
        faults = ", ".join(f"{count} {what}" for what, count in sorted(self.faults.items())) or "no fault"
        most = f"longest {self.longest_s:.1f} s, largest {self.largest_mb:.0f} MB"
        return "\n".join([f"{self.sort}: {self.statuses.total()} cases ({statuses}); {most}; {faults}", *self.told])


def whole(data: bytes) -> bool:
    """Return whether a page is all there."""
    return data.rstrip().endswith((b"%%EOF", b"</html>"))
