"""Small pieces and shops to sand."""

from __future__ import annotations

from pathlib import Path

from finplan.planning import read_source, together
from finplan.sanding import GroupSanding, SandingPlan

SHOP = "shop: Test\n"
METHODS = "methods: [brush, wipe, random-orbit-125, hand, lathe]\n"


def planned(folder: Path, piece: str, shop: str = "", methods: str = METHODS) -> SandingPlan:
    """Return how a piece is sanded, *shop* being fields more of the shop file."""
    piece_file, shop_file = folder / "piece.yaml", folder / "shop.yaml"
    piece_file.write_text(piece, encoding="utf-8")
    shop_file.write_text(SHOP + methods + shop, encoding="utf-8")
    source = read_source(piece_file, shop_file)
    (planned,) = together([source])
    return planned.sanding


def group_of(plan: SandingPlan, face: str) -> GroupSanding:
    """Return how the group with a face is sanded."""
    return next(found for found in plan.groups if face in found.group.faces)


def grits_of(plan: SandingPlan, face: str) -> list[str]:
    """Return the grits on a face."""
    return [step.grit for step in group_of(plan, face).steps]


def board(*fields: str, system: str = "oil-varnish-blend", timber: str = "red-oak") -> str:
    """Return a piece of one board, *fields* being more of the part."""
    more = ", ".join(("shape: rectangle", "length: 1000", "width: 500", "thickness: 20", *fields))
    return f"piece: Board\nlengths: mm\ntimber: {timber}\nsystem: {system}\nparts:\n  top: {{{more}}}\n"
