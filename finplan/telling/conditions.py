"""What is ticked before the tin is opened, for what is said of the air of a session to hold, in words."""

from __future__ import annotations

from finplan.planning import Plan
from finplan.safety import Condition, DrawnBy, Session
from finplan.showing import capital, show_flow

DRAWS: dict[DrawnBy, str] = {"fan": "Fan", "extraction": "Extraction", "both": "Fan and extraction"}
"""What is switched on, as it is called."""


def condition_words(condition: Condition, session: Session, plan: Plan) -> str:
    """Return what is ticked of a condition on which a session rests."""
    air, units = session.air, plan.units
    match condition.kind:
        case "fan":
            flow = show_flow(air.fan_m3_h, units)
            return f"{DRAWS[air.draws]} of {session.room} ON ({flow}), the way in and out free."
        case "openings":
            return f"Doors and windows of {session.room} open on two sides."
        case "booth" if session.in_booth:
            flow = show_flow(air.booth_m3_h, units)
            return f"In the spray booth, its exhaust ON ({flow}), filters clean; it runs on until the vapour is gone."
        case "booth":
            instead = plan.catalogue.exhausts["booth"].text
            return " ".join(filter(None, ("Without a spray booth, on the word of the shop file.", instead)))
        case "breathing-protection":
            return "Breathing protection as the safety data sheet demands ON; nobody else in the room."
        case "mask":
            mask = capital(plan.catalogue.respirators[session.mask or ""].title)
            return f"{mask} ON, fitted, cartridges fresh; everybody else out."
