"""Safety: the cautions that this plan calls for, and what is reckoned of vapour, cloths, dust and rules."""

from finplan.catalogue.caution import Trigger
from finplan.safety.cartridges import CartridgeUse
from finplan.safety.cautions import CautionLine, cautions
from finplan.safety.conditions import Condition
from finplan.safety.contact import ContactLine
from finplan.safety.dangers import Circumstances, dangers
from finplan.safety.dust import DustLimitLine, DustReport
from finplan.safety.exposure import Exposure
from finplan.safety.loads import FreshAir
from finplan.safety.rags import OilyWaste, Tick
from finplan.safety.regulation import VocLine
from finplan.safety.report import Around, FitAgain, Safety, SessionReport, circumstances, safety_report
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Reckoning, Session, Standing, Verdict
from finplan.safety.vapour import fire_air, health_air, mass_in_air, molar_volume, vapour_volume
from finplan.safety.words import BASIS, PURPOSES, VERDICTS, air_words, sprayed_without_booth

__all__ = [
    "BASIS",
    "PURPOSES",
    "VERDICTS",
    "Around",
    "CartridgeUse",
    "CautionLine",
    "Circumstances",
    "Condition",
    "ContactLine",
    "DustLimitLine",
    "DustReport",
    "Exposure",
    "FitAgain",
    "FreshAir",
    "OilyWaste",
    "Reckoning",
    "RoomAir",
    "Safety",
    "Session",
    "SessionReport",
    "Standing",
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
    "safety_report",
    "sprayed_without_booth",
    "vapour_volume",
]
