"""Flat panels: an outline swept by the profile of its edge."""

from __future__ import annotations

import math
from collections.abc import Mapping

from finplan.geometry import ParallelCurves, Strand, TooFarError, holds, meet
from finplan.inputs.shapes import Edge, Panel, Profile
from finplan.problems import Finding, FindingsError
from finplan.surface.edge_band import Band, edge_band
from finplan.surface.face import BareFace
from finplan.surface.plan_view import PlanView, plan_view

_ROUNDING = 1 + 1e-9


def panel_faces(part: Panel) -> list[BareFace]:
    """Return the faces of a panel.

    Raises
    ------
    FindingsError
        The profiles are taller than the panel is thick, or the outline or a hole has no room for them.

    Notes
    -----
    Both flat faces are the outline set back by their profile, less the holes; the face ``edge`` is all between them. A
    set-back of just half the width is allowed: it leaves a face of area 0.
    """
    top, bottom = _profiles(part)
    seen = plan_view(part)
    curves = ParallelCurves(seen.outline)
    bands = _bands(part.edge, seen, curves, {"top": top} if top == bottom else {"top": top, "bottom": bottom})
    bands.setdefault("bottom", bands["top"])
    _check_holes(part.edge, seen, curves, max(top.set_back_mm, bottom.set_back_mm))
    upright_mm = max(0.0, part.thickness_mm - top.height_mm - bottom.height_mm)
    edge_mm2 = bands["top"].area_mm2 + bands["bottom"].area_mm2 + curves.perimeter_mm * upright_mm
    seen_mm2 = bands["top"].seen_mm2 + bands["bottom"].seen_mm2 + curves.across_mm * upright_mm
    holes_mm2 = math.fsum(hole.area_mm2 for hole in seen.holes)
    faces = [
        BareFace("top", bands["top"].face_mm2 - holes_mm2, 0.0),
        BareFace("underside", bands["bottom"].face_mm2 - holes_mm2, 0.0),
        BareFace("edge", edge_mm2, seen_mm2 / edge_mm2),
    ]
    if seen.holes:
        around_mm = math.fsum(hole.perimeter_mm for hole in seen.holes)
        across_mm = math.fsum(hole.across_mm for hole in seen.holes)
        faces.append(BareFace("hole", around_mm * part.thickness_mm, across_mm / around_mm))
    return faces


def _profiles(part: Panel) -> tuple[Profile, Profile]:
    """Return the profiles of both arrises, after checking that they fit on the thickness."""
    edge, thickness_mm = part.edge, part.thickness_mm
    if edge.bullnose:
        half_mm = thickness_mm / 2
        half_round = Profile("roundover", half_mm, half_mm)
        return half_round, half_round
    height_mm = edge.top.height_mm + edge.bottom.height_mm
    if height_mm > thickness_mm * _ROUNDING:
        raise FindingsError(
            [
                Finding(
                    ("edge",),
                    f"the profiles are {height_mm:.6g} mm tall together, the panel is {thickness_mm:.6g} mm thick",
                    f"expected at most {thickness_mm:.6g} mm: {edge.top} above, {edge.bottom} below",
                )
            ]
        )
    return edge.top, edge.bottom


def _too_far(edge: Edge, side: str, set_back_mm: float, why: str) -> FindingsError:
    """Return the error about the profile of one side, at its place in the file."""
    path = ("edge",) if edge.bullnose or edge.top == edge.bottom else ("edge", side)
    wrong = f"the edge sets the outline back by {set_back_mm:.6g} mm, but {why}"
    return FindingsError([Finding(path, wrong, "expected a smaller profile")])


def _bands(edge: Edge, seen: PlanView, curves: ParallelCurves, profiles: Mapping[str, Profile]) -> dict[str, Band]:
    bands: dict[str, Band] = {}
    findings: list[Finding] = []
    for side, profile in profiles.items():
        try:
            bands[side] = _band(edge, side, seen, curves, profile)
        except FindingsError as error:
            findings += error.findings
    if findings:
        raise FindingsError(findings)
    return bands


def _band(edge: Edge, side: str, seen: PlanView, curves: ParallelCurves, profile: Profile) -> Band:
    try:
        return edge_band(curves, profile)
    except TooFarError as error:
        why = error.wrong + seen.place(error.point)
        raise _too_far(edge, side, profile.set_back_mm, why) from None


def _check_holes(edge: Edge, seen: PlanView, curves: ParallelCurves, set_back_mm: float) -> None:
    """Check that all holes keep clear of the profiles."""
    if not seen.holes or not set_back_mm:
        return
    holes = [[Strand(link) for link in hole.links] for hole in seen.holes]
    for hole in holes:
        if _keeps_clear(hole, curves, set_back_mm):
            continue
        low, high = 0.0, set_back_mm
        while high - low > 1e-4 * set_back_mm:
            middle = (low + high) / 2
            low, high = (middle, high) if _keeps_clear(hole, curves, middle) else (low, middle)
        side = "top" if edge.top.set_back_mm >= edge.bottom.set_back_mm else "bottom"
        raise _too_far(edge, side, set_back_mm, f"a hole leaves it {low:.4g} mm")


def _keeps_clear(hole: list[Strand], curves: ParallelCurves, set_back_mm: float) -> bool:
    front = curves.front_at(set_back_mm).strands(set_back_mm)
    return meet(front, hole) is None and holds(front, hole[0].start)
