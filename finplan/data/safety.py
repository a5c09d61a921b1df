"""The safety of a plan."""

from __future__ import annotations

from finplan.data.materials import consumable_data
from finplan.data.row import row_of, rows_of
from finplan.data.safety_rows import (
    CartridgesRow,
    CautionRow,
    CircumstanceRow,
    ContactRow,
    DustLimitRow,
    DustRow,
    GearRow,
    HadRow,
    OilyWasteRow,
    RowCareRow,
    SafetyRow,
    TickRow,
    UsedForSafetyRow,
    VocRow,
)
from finplan.data.session_rows import (
    AirHeldRow,
    AiringRow,
    AirRow,
    ConditionRow,
    ExposureRow,
    SandedTooEarlyRow,
    SessionRow,
)
from finplan.planning import Plan
from finplan.quantity import Range
from finplan.safety import DustReport, FreshAir, Gear, Reckoning, RowCare, SessionReport
from finplan.telling import (
    air_remedy_words,
    because_words,
    brought_by,
    condition_words,
    duty_words,
    row_care_words,
    to_measure_words,
)


def safety_data(plan: Plan) -> SafetyRow:
    """Return what is reckoned and what is said; times with their offset, masses in g, air in m³ and m³/h.

    Notes
    -----
    ``vapour_g`` and ``air_m3`` are what the verdict rests on, the high of the range; so is ``dust_g``.
    """
    safety, precautions = plan.safety, plan.precautions
    return SafetyRow(
        format="finplan-safety/1",
        sessions=tuple(_session(session, plan) for session in safety.sessions),
        to_measure=to_measure_words(plan.safety.to_measure, plan.units),
        cautions=tuple(row_of(CautionRow, line, because=because_words(line)) for line in precautions.cautions),
        worst=tuple(line.code for line in precautions.worst),
        circumstances=tuple(
            row_of(CircumstanceRow, circumstance, cause=brought_by(circumstance.cause))
            for circumstance in precautions.circumstances
        ),
        rows=tuple(_row_care(care, plan) for care in precautions.rows.values()),
        gear=_gear(precautions.gear),
        dust_g=safety.dust.dust_g.high,
        dust=_dust(safety.dust),
        oily_waste=rows_of(OilyWasteRow, safety.waste),
        ticks=tuple(row_of(TickRow, tick, after=tick.row, text=duty_words(tick, plan)) for tick in precautions.ticks),
        cartridges=tuple(row_of(CartridgesRow, use, source=use.basis) for use in precautions.cartridges),
        voc=rows_of(VocRow, safety.voc),
        contact=rows_of(ContactRow, safety.contact),
    )


def _row_care(care: RowCare, plan: Plan) -> RowCareRow:
    said = row_care_words(care, plan)
    return row_of(
        RowCareRow,
        care,
        person=care.person or None,
        cautions=care.codes,
        worn=said.worn,
        before=said.before,
        mind=said.mind,
        air=said.air,
    )


def _session(report: SessionReport, plan: Plan) -> SessionRow:
    session = report.session
    return row_of(
        SessionRow,
        report,
        vapour_g=sum(mass_g.high for mass_g in session.vapours.values()),
        air_m3=_air(session.loads.air),
        room_gives_m3_h=None if session.fan_on is None else session.fan_on.flow_m3_h,
        verdict=session.verdict,
        conditions=tuple(
            row_of(ConditionRow, condition, text=condition_words(condition, session, plan))
            for condition in report.conditions
        ),
        remedies=air_remedy_words(report.remedies, plan.catalogue, plan.units),
        room=session.room,
        room_m3=session.air.volume_m3,
        fan_m3_h=session.air.fan_m3_h,
        booth_m3_h=session.air.booth_m3_h if session.in_booth else None,
        fan_on=_held(session.fan_on),
        fan_off=_held(session.fan_off),
        mask=session.mask,
        vapour_g_range=Range.total(session.vapours.values()),
        solvents_g=session.vapours,
        needs_m3_h=_air(session.needs_m3_h),
        air_after=tuple(AiringRow(before=fit.purpose, hours=fit.hours, from_=fit.at) for fit in report.fit_again),
        sanded_too_early=tuple(
            SandedTooEarlyRow(step=early.row.id, start=early.row.start) for early in report.too_early
        ),
    )


def _held(reckoning: Reckoning | None) -> AirHeldRow | None:
    if reckoning is None:
        return None
    return row_of(
        AirHeldRow,
        reckoning,
        against_fire=reckoning.fire,
        to_breathe=reckoning.breathing,
        typical=row_of(ExposureRow, reckoning.typical),
        high=row_of(ExposureRow, reckoning.high),
    )


def _air(air: FreshAir) -> AirRow:
    return row_of(AirRow, air, fire_target=air.target)


def _gear(gear: Gear) -> GearRow:
    buy = tuple(UsedForSafetyRow(need=consumable_data(need), rows=tuple(gear.rows[need.name])) for need in gear.buy)
    return GearRow(have=rows_of(HadRow, gear.have), buy=buy)


def _dust(dust: DustReport) -> DustRow:
    return row_of(
        DustRow,
        dust,
        room_m3=dust.volume_m3,
        limits=rows_of(DustLimitRow, dust.limits),
        extractor_passes_pct=dust.passes_pct,
    )
