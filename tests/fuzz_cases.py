"""Hostile and odd files, and what is run on them: every case is made from its own random numbers."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random

from finplan.demo import FILES
from tests.conftest import EXAMPLE
from tests.mutations import as_yaml, changed, log_text, mesh_text, overrides, spoiled

_DEMO = Path(sys.modules["finplan.demo"].__file__ or "").with_name("files")
PIECES = [
    EXAMPLE,
    *((_DEMO / name).read_text(encoding="utf-8").replace("DELIVER", "2027-03-12") for name in FILES[:-1]),
]
SHOP = (_DEMO / FILES[-1]).read_text(encoding="utf-8")


@dataclass(frozen=True)
class Case:
    """The files of a case, by name, and what is run on them."""

    files: dict[str, str]
    arguments: list[str]
    output: str = ""


def reads(rng: Random) -> Case:
    """Return spoiled files to be read."""
    piece, shop, more = rng.choice(PIECES), SHOP, {}
    what = rng.random()
    if what < 0.6:
        piece = spoiled(piece, rng)
    elif what < 0.85:
        shop = spoiled(shop, rng)
    elif what < 0.92:
        shop = (
            shop.replace("climate:", "climate: {log: air.csv}\nmonths-of-old:").split("months-of-old:")[0]
            + "methods: [wipe, brush]\n"
        )
        more["air.csv"] = log_text(rng)
    else:
        piece = (
            "piece: Knob\ntimber: ash\nsystem: hardwax-oil\nparts: {knob: {shape: mesh, file: knob.obj, unit: mm}}\n"
        )
        more["knob.obj"] = mesh_text(rng)
    command = rng.choice((["check"], ["check", "--json"], ["areas", "--json"], ["areas"]))
    arguments = [command[0], "piece.yaml", *command[1:], "--shop", "shop.yaml"]
    return Case({"piece.yaml": piece, "shop.yaml": shop, **more}, arguments)


def plans(rng: Random) -> Case:
    """Return files that are mostly in order, to be planned."""
    case = _planned(rng)
    command = rng.choice(("timetable", "timetable", "plan", "safety", "materials", "sanding"))
    more = [] if command == "plan" else ["--json"] if rng.random() < 0.6 else []
    when = [] if command in ("materials", "sanding") else _dates(rng)
    wishes = _wishes(rng) if command in ("timetable", "plan") else []
    return Case(case.files, [command, "piece.yaml", "--shop", "shop.yaml", *more, *when, *wishes])


def pages(rng: Random) -> Case:
    """Return files that are mostly in order, to be printed."""
    case = _planned(rng)
    command, ending = rng.choice(("sheet", "sheet", "tags")), rng.choice(("html", "pdf"))
    output = f"out.{ending}"
    arguments = [command, "piece.yaml", "--shop", "shop.yaml", "-o", output, *_dates(rng), *_wishes(rng)]
    return Case(case.files, arguments, output)


def _planned(rng: Random) -> Case:
    piece, shop = changed(rng.choice(PIECES), rng), SHOP
    if rng.random() < 0.3:
        shop = changed(shop, rng)
    elif rng.random() < 0.4:
        shop += f"\noverrides: {as_yaml(overrides(rng))}\n"
    return Case({"piece.yaml": piece, "shop.yaml": shop}, [])


def _dates(rng: Random) -> list[str]:
    return rng.choice((["--from", "2027-02-01"], ["--from", "2027-03-01"], ["--from", "2027-04-01"], []))


def _wishes(rng: Random) -> list[str]:
    return [
        *rng.choice(([], [], ["--asap"], ["--buffer", "max"])),
        *rng.choice(([], [], ["--ready-for", "cure"], ["--lose", "2027-03-10"], ["--lose", "2027-03-02"])),
        "--limit",
        "4",
    ]


SORTS: dict[str, Callable[[Random], Case]] = {"reads": reads, "plans": plans, "pages": pages}
"""By the name of a sort."""
