"""What the care card says of heat, water and the days: the wording of what catalogue and timetable know.

From which rating on what is allowed, and what each rating is told as, is common trade practice and has no one source.
"""

from __future__ import annotations

from finplan.catalogue import Ratings
from finplan.timetable import ReadyFor

_DAMP_FROM = 3
"""The rating of its resistance to water from which a finish may be wiped with a damp cloth."""
_HOT_FROM = 3
"""The rating of its resistance to heat from which a finish stands a hot dish on a mat."""
_UNTIL_HARD = "Dust it with a dry cloth only, and leave nothing wet, hot or heavy on it."
_USABLE: dict[ReadyFor, str] = {
    "handle": f"It may be carried and set down with care, and not used yet. {_UNTIL_HARD}",
    "light-use": f"It may be touched, moved and used with care. {_UNTIL_HARD}",
    "cure": f"It may be touched, moved and used with care. {_UNTIL_HARD}",
}
_HEAT = {
    1: "Heat marks it, even a warm cup: always a mat.",
    2: "Heat marks it: hot cups and dishes always on a mat.",
    3: "Once it is hard a warm cup does it no harm; hot dishes and pans on a mat.",
    4: "Once it is hard a hot cup does it no harm; hot dishes and pans on a mat.",
    5: "Once it is hard it stands heat well; pans from the stove on a mat all the same.",
}
_WATER = {
    1: "Water marks it: wipe it up at once.",
    2: "Water marks it: wipe it up at once.",
    3: "Wipe up water soon.",
    4: "Once it is hard water may stand on it for a while; wipe it up the same day.",
    5: "Once it is hard water does it no harm; wipe it up all the same.",
}


def where_words(*, outdoors: bool) -> tuple[str, ...]:
    """Return where a piece is kept whose finish is not for outdoors."""
    return () if outdoors else ("Keep it indoors, out of rain, frost and damp.",)


def usable_words(ready_for: ReadyFor) -> str:
    """Return what may be done with a piece that is ready and has not cured."""
    return _USABLE[ready_for]


def hard_words(ratings: Ratings) -> str:
    """Return what may be done with a finish that has cured; of what water or heat would mark nothing is promised."""
    may = ["Things may be left standing on it"]
    if ratings.water >= _DAMP_FROM:
        may.insert(0, "It may be wiped with a damp cloth")
    if ratings.heat >= _HOT_FROM:
        may.append("Hot dishes may be set on it, on a mat")
    return ". ".join(["It has cured and is fully hard", *may]) + "."


def stands_words(ratings: Ratings) -> tuple[str, str]:
    """Return what a finish withstands of heat and of water."""
    return _HEAT[ratings.heat], _WATER[ratings.water]
