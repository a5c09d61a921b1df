"""The sanding of a piece for a person."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.quantity import Range, Units
from finplan.sanding import SandingPlan
from finplan.showing import plain, show_mass


def _minutes(hours: Range) -> str:
    if round(hours.typical * 60) == 0:
        return f"under 1 (up to {max(1.0, hours.high * 60):.0f})"
    return f"{hours.typical * 60:.0f} ({hours.low * 60:.0f} to {hours.high * 60:.0f})"


def _used(needed: Range) -> str:
    if needed.high < 0.1:
        return "less than 0.1"
    return f"{plain(needed.typical, 2)} ({plain(needed.low, 2)} to {plain(needed.high, 2)})"


def sanding_lines(plan: SandingPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return a table per part, the abrasives and the dust."""
    lines: list[str] = []
    seen: str | None = None
    for found in plan.groups:
        group = found.group
        if group.part != seen:
            lines += ["", f"{group.part}{f' (all {group.count})' if group.count > 1 else ''}"]
            seen = group.part
        comes = catalogue.surfaces[group.surface].title.lower()
        lines += ["", f"  {', '.join(group.faces)}: comes {comes}"]
        rows = [
            [step.grit, f"{step.size_um:g} µm", catalogue.sanding_methods[step.method].title, _minutes(step.hours)]
            for step in found.steps
        ]
        lines += [f"    {line}" for line in table(["grit", "grain", "how", "minutes"], rows, "lrlr")]
        lines.append(f"    Stop at {found.stop_reason}.")
        if found.note:
            lines.append(f"    Note: {found.note}.")
    abrasives = [
        [
            need.product,
            need.grit,
            _used(need.needed),
            " + ".join(f"{number} × {count}" for number, count in need.packs),
        ]
        for need in plan.abrasives
    ]
    lines += ["", "Abrasives, with those between the coats", ""]
    lines += table(["product", "grit", "used up", "packs"], abrasives, "llrl")
    dust = plan.dust_g
    lines += [
        "",
        f"Dust of bare wood: about {show_mass(dust.typical, units)} "
        f"({show_mass(dust.low, units)} to {show_mass(dust.high, units)}).",
    ]
    return lines[1:]
