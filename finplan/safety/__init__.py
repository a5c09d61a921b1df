"""Safety: the cautions that this plan calls for, and what is reckoned of vapour, cloths, dust and rules."""

from finplan.catalogue import Trigger
from finplan.safety.airing import Purpose
from finplan.safety.cartridges import CartridgeUse
from finplan.safety.cautions import CautionLine, cautions
from finplan.safety.circumstances import Circumstance
from finplan.safety.conditions import Condition, ConditionKind
from finplan.safety.contact import ContactLine
from finplan.safety.dangers import Background, dangers
from finplan.safety.dust import DustLimitLine, DustReport, dust_report
from finplan.safety.exposure import Exposure
from finplan.safety.gear import Gear, Had
from finplan.safety.loads import FreshAir
from finplan.safety.precautions import Precautions, precautions
from finplan.safety.rags import Duty, OilyWaste
from finplan.safety.regulation import VocLine, VocStanding
from finplan.safety.report import Around, FitAgain, Safety, SessionReport, background_of, safety_report
from finplan.safety.room_air import RoomAir
from finplan.safety.row_care import RowCare
from finplan.safety.session import AgainstLimit, AirVerdict, Reckoning, Session
from finplan.safety.vapour import fire_air, health_air, mass_in_air, molar_volume, vapour_volume

__all__ = [
    "AgainstLimit",
    "AirVerdict",
    "Around",
    "Background",
    "CartridgeUse",
    "CautionLine",
    "Circumstance",
    "Condition",
    "ConditionKind",
    "ContactLine",
    "DustLimitLine",
    "DustReport",
    "Duty",
    "Exposure",
    "FitAgain",
    "FreshAir",
    "Gear",
    "Had",
    "OilyWaste",
    "Precautions",
    "Purpose",
    "Reckoning",
    "RoomAir",
    "RowCare",
    "Safety",
    "Session",
    "SessionReport",
    "Trigger",
    "VocLine",
    "VocStanding",
    "background_of",
    "cautions",
    "dangers",
    "dust_report",
    "fire_air",
    "health_air",
    "mass_in_air",
    "molar_volume",
    "precautions",
    "purge_hours",
    "safety_report",
    "vapour_volume",
]
