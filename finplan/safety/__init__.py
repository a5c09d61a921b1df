"""Safety: the cautions that this plan calls for, and what is reckoned of vapour, cloths, dust and rules."""

from finplan.catalogue.caution import Trigger
from finplan.safety.cartridges import CartridgeUse
from finplan.safety.cautions import CautionLine, cautions
from finplan.safety.contact import ContactLine
from finplan.safety.dangers import Circumstances, dangers
from finplan.safety.dust import DustLimitLine, DustReport
from finplan.safety.loads import FreshAir
from finplan.safety.rags import OilyWaste, Tick
from finplan.safety.regulation import VocLine
from finplan.safety.report import Around, FitAgain, Safety, SessionReport, circumstances, safety_report
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Session, Verdict
from finplan.safety.vapour import fire_air, health_air, mass_in_air, molar_volume, purge_hours, vapour_volume
from finplan.safety.words import BASIS, PURPOSES, VERDICTS, air_words, wanted_flow

__all__ = [
    "BASIS",
    "PURPOSES",
    "VERDICTS",
    "Around",
    "CartridgeUse",
    "CautionLine",
    "Circumstances",
    "ContactLine",
    "DustLimitLine",
    "DustReport",
    "FitAgain",
    "FreshAir",
    "OilyWaste",
    "RoomAir",
    "Safety",
    "Session",
    "SessionReport",
    "Tick",
    "Trigger",
    "Verdict",
    "VocLine",
    "air_words",
    "cautions",
    "circumstances",
    "dangers",
    "fire_air",
    "health_air",
    "mass_in_air",
    "molar_volume",
    "purge_hours",
    "safety_report",
    "vapour_volume",
    "wanted_flow",
]
