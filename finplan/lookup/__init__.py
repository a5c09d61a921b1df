"""The catalogue for one who looks something up: what it holds, a record with its sources, what its fields mean."""

from finplan.lookup.fields import kind_lines
from finplan.lookup.readiness import ready_h
from finplan.lookup.record_data import FORMAT, listing_json, record_json
from finplan.lookup.record_lines import listing_lines, record_lines
from finplan.lookup.selection import Selection, selected

__all__ = [
    "FORMAT",
    "Selection",
    "kind_lines",
    "listing_json",
    "listing_lines",
    "ready_h",
    "record_json",
    "record_lines",
    "selected",
]
