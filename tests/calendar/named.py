"""What an event is of, without the number of its step."""

from __future__ import annotations

import re

from icalendar import Component


def named(event: Component) -> str:
    """The summary of an event, without the number that stands before what is a step."""
    return re.sub(r"^\d+\. ", "", str(event["summary"]))
