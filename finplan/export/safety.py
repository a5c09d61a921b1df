"""The safety of a plan as plain data."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from typing import Any

from finplan.export.materials import consumable_data
from finplan.export.ranges import range_data
from finplan.quantity import Range
from finplan.safety import (
    CartridgeUse,
    CautionLine,
    Circumstance,
    ContactLine,
    DustReport,
    FreshAir,
    Gear,
    OilyWaste,
    Precautions,
    Reckoning,
    RowCare,
    Safety,
    SessionReport,
    Tick,
    VocLine,
)


def safety_data(safety: Safety, precautions: Precautions) -> dict[str, Any]:
    """Return what is reckoned and what is said; times with their offset, masses in g, air in m³ and m³/h.

    Notes
    -----
    ``vapour_g`` and ``air_m3`` are what the verdict rests on, the high of the range; so is ``dust_g``.
    """
    return {
        "format": "finplan-safety/1",
        "sessions": [_session(one) for one in safety.sessions],
        "to_measure": safety.to_measure,
        "cautions": [_caution(line) for line in precautions.cautions],
        "worst": [line.code for line in precautions.worst],
        "circumstances": [_circumstance(one) for one in precautions.circumstances],
        "rows": [_row(care) for care in precautions.rows.values()],
        "gear": _gear(precautions.gear),
        "dust_g": safety.dust.dust_g.high,
        "dust": _dust(safety.dust),
        "oily_waste": [_waste(one) for one in safety.waste],
        "ticks": [_tick(tick) for tick in precautions.ticks],
        "cartridges": [_cartridges(use) for use in safety.cartridges],
        "voc": [_voc(line) for line in safety.voc],
        "contact": [_contact(line) for line in safety.contact],
    }


def _session(one: SessionReport) -> dict[str, Any]:
    session = one.session
    return {
        "start": _time(one.start),
        "steps": list(one.steps),
        "vapour_g": sum(mass_g.high for mass_g in session.vapours.values()),
        "air_m3": _air(session.loads.air),
        "room_gives_m3_h": None if session.fan_on is None else session.fan_on.flow_m3_h,
        "verdict": session.verdict,
        "conditions": [
            {"kind": condition.kind, "steps": list(condition.steps), "text": condition.text}
            for condition in one.conditions
        ],
        "remedies": list(one.remedies),
        "room": session.room,
        "room_m3": session.air.volume_m3,
        "fan_m3_h": session.air.fan_m3_h,
        "booth_m3_h": session.air.booth_m3_h if session.in_booth else None,
        "fan_on": _reckoning(session.fan_on),
        "fan_off": _reckoning(session.fan_off),
        "mask": session.mask,
        "vapour_until": _time(one.vapour_until),
        "vapour_g_range": range_data(Range.total(session.vapours.values())),
        "solvents_g": {name: range_data(mass_g) for name, mass_g in session.vapours.items()},
        "needs_m3_h": _air(session.needs_m3_h),
        "air_after": [{"before": fit.purpose, "hours": fit.hours, "from": _time(fit.at)} for fit in one.fit_again],
        "sanded_too_early": [{"step": row.id, "start": _time(row.start)} for row in one.too_early],
    }


def _cartridges(use: CartridgeUse) -> dict[str, Any]:
    return {
        "person": use.person,
        "steps": list(use.steps),
        "worn_h": use.worn_h,
        "life_h": range_data(use.life_h),
        "source": use.basis,
    }


def _reckoning(found: Reckoning | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "flow_m3_h": found.flow_m3_h,
        "verdict": found.verdict,
        "against_fire": found.fire,
        "to_breathe": found.breathing,
        "typical": asdict(found.typical),
        "high": asdict(found.high),
    }


def _air(air: FreshAir) -> dict[str, float | None]:
    return {"fire": air.fire, "health": air.health, "fire_target": air.target}


def _caution(line: CautionLine) -> dict[str, Any]:
    return {
        "code": line.code,
        "when": line.when,
        "text": line.text,
        "reason": line.reason,
        "source": line.source,
        "rank": line.rank,
        "title": line.title,
        "because": list(line.because),
        "comes_first": line.comes_first,
        "rows": list(line.rows),
    }


def _circumstance(one: Circumstance) -> dict[str, Any]:
    return {
        "danger": one.danger,
        "cause": one.cause,
        "rows": list(one.rows),
        "people": list(one.people),
        "rooms": list(one.rooms),
        "start": _time(one.start),
        "end": _time(one.end),
    }


def _row(care: RowCare) -> dict[str, Any]:
    return {
        "row": care.row,
        "person": care.person or None,
        "cautions": list(care.codes),
        "uses": list(care.uses),
        "needs": list(care.needs),
        "worn": care.worn,
        "before": list(care.before),
        "mind": list(care.mind),
        "air": list(care.air),
    }


def _gear(gear: Gear) -> dict[str, Any]:
    return {
        "have": [
            {
                "name": one.name,
                "title": one.title,
                "count": one.count,
                "people": list(one.people),
                "rows": list(one.rows),
            }
            for one in gear.have
        ],
        "buy": [{"need": consumable_data(need), "rows": list(gear.rows[need.name])} for need in gear.buy],
    }


def _dust(dust: DustReport) -> dict[str, Any]:
    return {
        "dust_g": range_data(dust.dust_g),
        "room": dust.room,
        "room_m3": dust.volume_m3,
        "limits": [
            {
                "jurisdiction": line.jurisdiction,
                "limit_mg_m3": line.limit_mg_m3,
                "in_the_air_g": line.in_the_air_g,
                "source": line.source,
            }
            for line in dust.limits
        ],
        "extractor": dust.extractor,
        "extractor_passes_pct": dust.passes_pct,
        "extractor_source": dust.extractor_source,
    }


def _waste(one: OilyWaste) -> dict[str, Any]:
    return {"step": one.step, "finish": one.finish, "cloths": one.cloths, "can_ml": one.can_ml}


def _tick(tick: Tick) -> dict[str, Any]:
    return {"due": _time(tick.due), "after": tick.row, "text": tick.text}


def _voc(line: VocLine) -> dict[str, Any]:
    return {
        "finish": line.finish,
        "jurisdiction": line.jurisdiction,
        "category": line.category,
        "limit_g_l": line.limit_g_l,
        "voc_g_l": range_data(line.voc_g_l),
        "standing": line.standing,
        "source": line.source,
    }


def _contact(line: ContactLine) -> dict[str, Any]:
    return {
        "item": line.item,
        "finish": line.finish,
        "contact": line.contact,
        "text": line.text,
        "source": line.source,
        "cured": _time(line.cured),
    }


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")
