"""What the air has against a coat, in words."""

from __future__ import annotations

from finplan.climate import FilmFails, NearDewPoint, Objection, OutsideLimits

_UNITS = {"temperature": "°C", "humidity": "% humidity"}


def objection_words(objection: Objection) -> str:
    """Return why a coat must not be put on."""
    match objection:
        case OutsideLimits():
            when = " before it is on" if objection.later else ""
            unit = _UNITS[objection.of]
            limits = f"{objection.low:g} to {objection.high:g} {unit.split()[0]}"
            wrong = f"{round(objection.value, 1):g} {unit}{when} is outside {limits}"
            return wrong if objection.of == "temperature" else f"{wrong}: {_made_fit(objection)}"
        case NearDewPoint():
            return f"the air comes within {objection.margin_c:.1f} °C of its dew point before the coat is dust-free"
        case FilmFails():
            return (
                f"at {objection.air_c:g} °C it would be below {objection.above_c:g} °C, where its film does not form, "
                "before the coat is through-dry"
            )


def _made_fit(objection: OutsideLimits) -> str:
    """Return what is done about the humidity of the air: no change that is tried makes it drier or damper."""
    how = "moisten" if objection.value < objection.low else "dry"
    return f"{how} the air, and write into the shop file's climate what that comes to"
