"""The words of what was ticked or taken back."""

from __future__ import annotations

from finplan.bench.ticked import Ticked
from finplan.moments import show_moment
from finplan.showing import capital, show_volume


def tick_lines(told: Ticked) -> list[str]:
    """Return what was written down, as a person reads it."""
    entry, named = told.entry, ", ".join(told.named)
    if told.taken_back:
        return [f"Taken back: {named}. The entry stays in the record, and counts no more.", *_notes(told)]
    said = "found dry" if entry.kind == "dry" else "done"
    who = f" by {entry.person}" if entry.person else ""
    lines = [f"Ticked {named}: {said} {show_moment(entry.at)}{who}."]
    what = told.what
    if what is not None and what.used_ml is not None and what.reckoned_ml:
        used, reckoned = (show_volume(one, told.units) for one in (what.used_ml, what.reckoned_ml))
        percent = round((what.used_ml / what.reckoned_ml - 1) * 100)
        more = "as reckoned" if percent == 0 else f"{abs(percent)} % {'more' if percent > 0 else 'less'} than reckoned"
        lines.append(f"{used} used, {more} ({reckoned}).")
    lines += _notes(told)
    lines.append(f"{told.left} step{'' if told.left == 1 else 's'} left." if told.left else "All is done.")
    return lines


def _notes(told: Ticked) -> list[str]:
    return [f"{capital(note)}." for note in told.notes]
