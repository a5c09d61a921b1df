"""In which order a piece is sanded: before it is glued up and after, hidden faces, show faces, and what is masked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.quantity import Range
from finplan.sanding.group import GroupSanding
from finplan.sanding.step import BY_HAND
from finplan.surface import Face, PieceSurface
from finplan.system import FaceGroup, Treatment, work_id

SandingStage = Literal["before-assembly", "after-assembly", "loose"]
"""When: before the parts of an assembly are glued up, after, or on a part that belongs to none."""
OrderDeed = Literal["sand", "joints", "mask"]
"""Sanding bare wood; taking glue off and going over the joints; covering faces that are to be glued."""
GLUED = "glued"
"""The surface of parts that come glued up: a name in the catalogue's surfaces."""
_NEVER_MASKED = frozenset({"grooves"})
"""Covered as a rule, and closed by what sits in them."""
_ENDS = {"ends": 2, "top-end": 1, "foot-end": 1}
"""Faces that are ends, and how many ends each of them is."""

_LATHE = "on the lathe, before anything is joined to it"
_INSIDE = "no tool reaches into the corners once it is glued up"
_OUTSIDE = "flat on the bench it goes faster and stays flatter than in the frame; keep off the faces that are glued"
_UNDERSIDE = "the face that is sanded last is not laid down on the bench any more"
_SHOW = "last, so that nothing marks it"
_JOINTS = "glue seals the wood and shows under any finish; level the joints and sand them with the last grit by hand"
_MASK = "what is covered gets no finish: glue holds on bare wood only, and nobody sees the rest"
# The order is common trade practice; no single publication.


@dataclass(frozen=True, slots=True)
class OrderStep:
    """One step of the order, done after the one before it of the same item. Times in h."""

    id: str
    item: str
    stage: SandingStage
    do: OrderDeed
    label: str
    groups: tuple[FaceGroup, ...]
    """The faces that are sanded; none where faces are masked."""
    faces: tuple[str, ...]
    """The same, or the faces that are masked, as a person says them."""
    hours: Range
    reason: str
    joints: int = 0
    """How many joints are gone over."""


def order_of_work(
    treatments: Sequence[Treatment], surface: PieceSurface, sanded: Sequence[GroupSanding], catalogue: Catalogue
) -> tuple[OrderStep, ...]:
    """Return the order in which everything is sanded before the first coat, items in the order of the file.

    Parameters
    ----------
    treatments, surface
        What every item gets, and all faces, those that get nothing too
    sanded
        How each group is sanded
    catalogue
        How long masking takes, and a joint when the glue is off

    Notes
    -----
    Every group is in just one step that sands, and their times add up to that of all sanding of bare wood. What is
    sanded after gluing up is the joints only, unless the assembly comes glued up: then all of it.
    """
    by_item: dict[str, list[Treatment]] = {}
    for treatment in treatments:
        by_item.setdefault(treatment.item, []).append(treatment)
    order_steps: list[OrderStep] = []
    for item, of_item in by_item.items():
        groups = {group for treatment in of_item for group in treatment.groups}
        own = [sanding for sanding in sanded if sanding.group in groups]
        order_steps += _of_item(item, of_item, own, surface, catalogue)
    return tuple(order_steps)


def _of_item(
    item: str,
    treatments: Sequence[Treatment],
    sanded: Sequence[GroupSanding],
    surface: PieceSurface,
    catalogue: Catalogue,
) -> Iterator[OrderStep]:
    parts = treatments[0].parts
    loose = treatments[0].loose
    stem = treatments[0].stem
    counts = {part.part: part.count for part in surface.parts}
    glued_up = not loose and sum(counts[part] for part in parts) > 1
    comes_glued = treatments[0].glued or any(sanding.group.surface == GLUED for sanding in sanded)
    stage: SandingStage = "loose" if loose else "before-assembly" if glued_up and not comes_glued else "after-assembly"

    def step(name: str, label: str, sanded: Sequence[GroupSanding], reason: str) -> Iterator[OrderStep]:
        if sanded:
            groups = tuple(sanding.group for sanding in sanded)
            hours = Range.total(sanding.hours for sanding in sanded)
            faces = tuple(group.name for group in groups)
            yield OrderStep(work_id(stem, name), item, stage, "sand", label, groups, faces, hours, reason)

    turnings = [
        sanding
        for sanding in sanded
        if any(catalogue.sanding_methods[pass_.method].by == "lathe" for pass_ in sanding.steps)
    ]
    others = [sanding for sanding in sanded if sanding not in turnings]
    hidden = [sanding for sanding in others if sanding.group.exposure == "secondary"]
    shown = [sanding for sanding in others if sanding.group.exposure != "secondary"]
    before = stage == "before-assembly"
    yield from step("sand-turnings", "sand the turnings", turnings, _LATHE)
    yield from step("sand-hidden", "sand undersides and insides", hidden, _INSIDE if before else _UNDERSIDE)
    yield from step("sand-shown", "sand the faces that are looked at", shown, _OUTSIDE if before else _SHOW)
    if before:
        yield _joints(stem, item, sanded, joints_of(parts, surface), catalogue)
    unmasked = catalogue.sanding_rules["usual"].not_masked_for
    families = {catalogue.finishes[coat.finish].family for treatment in treatments for coat in treatment.put_on}
    if loose and not families <= set(unmasked):
        yield from _mask(stem, item, parts[0], surface, catalogue)


def joints_of(parts: Sequence[str], surface: PieceSurface) -> int:
    """Return how many joints there are between the parts of an assembly.

    They are those that the file names; where it names none, every covered end is in one. So many pieces are not held
    together by fewer than one less than there are of them.
    """
    joined = [part for part in surface.parts if part.part in parts]
    told = sum(joint.number for joint in surface.joints if joint.from_ in parts and joint.to in parts)
    covered = sum(
        part.count * _ENDS[face.face]
        for part in joined
        for face in part.faces
        if face.exposure == "covered" and face.face in _ENDS
    )
    return max(told or covered, sum(part.count for part in joined) - 1)


def _joints(stem: str, item: str, sanded: Sequence[GroupSanding], joints: int, catalogue: Catalogue) -> OrderStep:
    """Return what is done when an assembly is out of the clamps: joint by joint, by hand."""
    flat = [sanding.group for sanding in sanded if sanding.group.kind == "flat" and sanding.group.exposure == "show"]
    groups = tuple(flat or [sanding.group for sanding in sanded])
    return OrderStep(
        id=work_id(stem, "sand-joints"),
        item=item,
        stage="after-assembly",
        do="joints",
        label="sand the joints",
        groups=groups,
        faces=tuple(group.name for group in groups),
        hours=catalogue.sanding_rules["usual"]
        .joint_h.scaled(joints)
        .plus(catalogue.sanding_methods[BY_HAND].handling_h),
        reason=_JOINTS,
        joints=joints,
    )


def _mask(stem: str, item: str, name: str, surface: PieceSurface, catalogue: Catalogue) -> Iterator[OrderStep]:
    """Give the masking of a loose part: its covered faces, and patches where other parts stand on it."""
    part = next(part_surface for part_surface in surface.parts if part_surface.part == name)
    masked = [face for face in part.faces if _is_masked(face)]
    if masked:
        yield OrderStep(
            id=work_id(stem, "mask"),
            item=item,
            stage="loose",
            do="mask",
            label="mask the faces that are glued",
            groups=(),
            faces=tuple(f"{name}: {face.face}" for face in masked),
            hours=catalogue.sanding_rules["usual"].masking_h.scaled(len(masked) * part.count),
            reason=_MASK,
        )


def _is_masked(face: Face) -> bool:
    if face.exposure == "covered":
        return face.face not in _NEVER_MASKED
    return face.area_m2 < face.whole_m2 * (1 - 1e-9)
