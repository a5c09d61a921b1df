"""How a piece is sanded."""

from __future__ import annotations

from finplan.catalogue import is_cami
from finplan.data.row import row_of
from finplan.data.sanding_rows import (
    AbrasivePacksRow,
    AbrasiveRow,
    AbrasiveUseRow,
    ExtractionRow,
    FallRow,
    GritRow,
    LaterSandingRow,
    RoomDustRow,
    SandedFacesRow,
    SandedPartRow,
    SandingOrderRow,
    SandingRow,
    VeneerRow,
)
from finplan.quantity import Range
from finplan.safety import DustReport
from finplan.sanding import GroupSanding, LaterWork, SandingPlan, SandingStep

_MINUTES_PER_H = 60.0


def sanding_data(plan: SandingPlan, dust: DustReport) -> SandingRow:
    """Return how every part is sanded, in which order, what it uses up and the dust it makes.

    Times are in minutes, grain sizes in µm, areas in m², dust in g, depths in mm.
    """
    parts: dict[str, list[SandedFacesRow]] = {}
    for sanded in plan.groups_of_one:
        parts.setdefault(sanded.group.part, []).append(_faces(sanded))
    return SandingRow(
        format="finplan-sanding/1",
        parts=tuple(
            SandedPartRow(part=part, handling_minutes=_minutes(plan.handling_of(part)), groups=tuple(groups))
            for part, groups in parts.items()
        ),
        later=tuple(map(_later, plan.later)),
        order=tuple(row_of(SandingOrderRow, step, minutes=_minutes(step.hours)) for step in plan.order),
        abrasives=tuple(
            AbrasiveRow(
                product=need.product,
                grit=need.grit,
                p_grade=_p_grade(need.grit, need.other_scale),
                cami=_cami(need.grit, need.other_scale),
                needed=need.needed,
                packs=tuple(AbrasivePacksRow(packs=number, of=count) for number, count in need.packs),
            )
            for need in plan.abrasives
        ),
        buy_grits=plan.buy,
        dust_g=plan.dust_g,
        extraction=_extraction(dust),
    )


def _minutes(hours: Range) -> Range:
    return hours.scaled(_MINUTES_PER_H)


def _p_grade(grit: str, other: str) -> str:
    return other if is_cami(grit) else grit


def _cami(grit: str, other: str) -> str:
    return grit if is_cami(grit) else other


def _faces(sanded: GroupSanding) -> SandedFacesRow:
    return row_of(
        SandedFacesRow,
        sanded,
        faces=sanded.group.faces,
        surface=sanded.group.surface,
        exposure=sanded.group.exposure,
        area_m2=sanded.group.area_m2,
        steps=tuple(map(_grit, sanded.steps)),
        beyond_cap=tuple(FallRow(from_=fall.coarse, to=fall.fine, ratio=fall.ratio) for fall in sanded.beyond_cap),
        veneer=None if sanded.veneer is None else row_of(VeneerRow, sanded.veneer),
    )


def _grit(step: SandingStep) -> GritRow:
    used = step.used
    return row_of(
        GritRow,
        step,
        p_grade=_p_grade(step.grit, step.other_scale),
        cami=_cami(step.grit, step.other_scale),
        minutes=_minutes(step.hours),
        use=AbrasiveUseRow(product=step.product, low=used.low, typical=used.typical, high=used.high),
    )


def _later(work: LaterWork) -> LaterSandingRow:
    first = work.steps[0] if work.steps else None
    return row_of(
        LaterSandingRow,
        work,
        grit=first.grit if first else None,
        size_um=first.size_um if first else None,
        method=first.method if first else None,
        minutes=_minutes(work.hours),
    )


def _extraction(dust: DustReport) -> ExtractionRow:
    limits = tuple(row_of(RoomDustRow, limit, where=limit.jurisdiction) for limit in dust.limits)
    return row_of(ExtractionRow, dust, limits=limits)
