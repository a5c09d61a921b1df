"""What cannot be sanded as the file asks: a stop before the start, too fine a stop, a veneer sanded through."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.catalogue import Catalogue
from finplan.inputs import Piece
from finplan.problems import Finding, Where
from finplan.sanding.group import GroupSanding, Veneer
from finplan.sanding.plan import SandingPlan
from finplan.sanding.progression import stop_too_coarse
from finplan.sanding.stock import Stock
from finplan.showing import plain
from finplan.system import FaceGroup


def sanding_findings(piece: Piece, plan: SandingPlan, catalogue: Catalogue) -> list[Finding]:
    """Return what cannot be sanded as the file asks, each thing once; paths start at the top of the piece file.

    Parameters
    ----------
    piece
        The piece
    plan
        How it would be sanded
    catalogue
        Surfaces and rules
    """
    return list(
        dict.fromkeys(finding for sanded in plan.groups for finding in _of_group(piece, sanded, plan, catalogue))
    )


def _of_group(piece: Piece, sanding: GroupSanding, plan: SandingPlan, catalogue: Catalogue) -> Iterator[Finding]:
    stock, group = plan.stock, sanding.group
    if group.stop_grit or group.start_grit:
        yield from _ends(piece, sanding, stock, catalogue)
    if sanding.veneer is None:
        return
    coarsest = catalogue.sanding_rules["usual"].veneer.coarsest
    first = sanding.steps[0].grit
    named = group.start_grit or first
    if stock.sizes_um[named] > stock.sizes_um[coarsest] * stock.as_good:
        field = "start-grit" if group.start_grit else "veneer"
        yield Finding(
            _where(piece, group, field),
            f"{named} ({stock.sizes_um[named]:g} µm) is too coarse for a veneer of "
            f"{plain(sanding.veneer.thickness_mm)} mm",
            f"expected {coarsest} or finer" + ("" if group.start_grit else " among the grits of the shop"),
        )
    yield from _through(piece, group, sanding.veneer, catalogue)


def _ends(piece: Piece, sanding: GroupSanding, stock: Stock, catalogue: Catalogue) -> Iterator[Finding]:
    group, sizes_um = sanding.group, stock.sizes_um
    start = group.start_grit or catalogue.surfaces[group.surface].start
    stop = group.stop_grit or sanding.stop_wanted
    if sizes_um[stop] > sizes_um[start]:
        yield Finding(
            _where(piece, group, "stop-grit" if group.stop_grit else "start-grit"),
            stop_too_coarse(start, stop, sizes_um),
            f"expected to start at {stop} or coarser, or to stop at {start} or finer",
        )
    finest = sanding.finest
    if group.stop_grit and finest is not None and sizes_um[stop] * stock.as_good < sizes_um[finest.grit]:
        yield Finding(
            _where(piece, group, "stop-grit"),
            f"{stop} ({sizes_um[stop]:g} µm) is finer than what goes on it tolerates: {finest.reason}",
            f"stop at {finest.grit} ({sizes_um[finest.grit]:g} µm) or coarser",
        )


def _through(piece: Piece, group: FaceGroup, veneer: Veneer, catalogue: Catalogue) -> Iterator[Finding]:
    """Give a finding where sanding typically takes more than can be spared, or may come out on the other side."""
    depth = veneer.depth_mm
    if depth.typical <= veneer.budget_mm and depth.high < veneer.thickness_mm:
        return
    surface = catalogue.surfaces[group.surface].title.lower()
    yield Finding(
        _where(piece, group, "veneer"),
        f"sanding it ({', '.join(group.faces)}: {surface}) reaches {depth.typical:.2f} mm ({depth.low:.2f} to "
        f"{depth.high:.2f}) into a veneer of {plain(veneer.thickness_mm)} mm, which has {veneer.budget_mm:.2f} mm to "
        "spare",
        "scrape it clean and start finer, such as surface: veneered",
    )


def _where(piece: Piece, group: FaceGroup, field: str) -> Where:
    """Return where in the file something is said of a group: at one of its faces, else at the part."""
    name = {"veneer": "veneer_mm"}.get(field, field.replace("-", "_"))
    part = piece.parts[group.part]
    for face in group.faces:
        if face in part.faces and getattr(part.faces[face], name) is not None:
            return ("parts", group.part, "faces", face, field)
    return ("parts", group.part, field) if getattr(part, name) is not None else ("parts", group.part)
