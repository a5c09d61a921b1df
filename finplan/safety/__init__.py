"""Safety: the cautions that this plan calls for, and what is reckoned of vapour, cloths, dust and rules."""

from finplan.catalogue import Trigger
from finplan.safety.air_remedy import (
    AirRemedy,
    BreatheBySheet,
    DrawMore,
    LimitNotKnown,
    MeasureAir,
    NoFanDoes,
    NoMaskDoes,
    NotLikeThis,
    OnlyInBooth,
    PutOnLess,
    SplitSession,
    WearMask,
)
from finplan.safety.airing import Purpose
from finplan.safety.around import Around
from finplan.safety.cartridges import CartridgeUse
from finplan.safety.cautions import CautionLine, cautions, of_old_paint, worst_cautions
from finplan.safety.circumstances import AirOfRoom, BroughtBy, Circumstance
from finplan.safety.conditions import Condition, ConditionKind
from finplan.safety.contact import ContactLine
from finplan.safety.dangers import Background, dangers
from finplan.safety.dust import DustLimitLine, DustReport, dust_report
from finplan.safety.duty import CartridgesSpent, CautionDue, ClothsLaidOut, Duty, ExtraDone, NoClothLeft
from finplan.safety.exposure import AirExposure
from finplan.safety.fit_to_sand import SandedTooEarly, SandingAir, may_be_reckoned, sanding_air
from finplan.safety.gear import Gear, Had
from finplan.safety.loads import FreshAir
from finplan.safety.measuring import FanForRoom, Unmeasured
from finplan.safety.precautions import Precautions, precautions
from finplan.safety.rags import OilyWaste
from finplan.safety.regulation import VocLine, VocStanding
from finplan.safety.report import FitAgain, Safety, SessionReport, background_of, safety_report
from finplan.safety.room_air import AirField, DrawnBy, RoomAir
from finplan.safety.row_care import RowCare
from finplan.safety.session import AgainstLimit, AirVerdict, Reckoning, Session
from finplan.safety.vapour import fire_air, health_air, mass_in_air, molar_volume, vapour_volume

__all__ = [
    "AgainstLimit",
    "AirExposure",
    "AirField",
    "AirOfRoom",
    "AirRemedy",
    "AirVerdict",
    "Around",
    "Background",
    "BreatheBySheet",
    "BroughtBy",
    "CartridgeUse",
    "CartridgesSpent",
    "CautionDue",
    "CautionLine",
    "Circumstance",
    "ClothsLaidOut",
    "Condition",
    "ConditionKind",
    "ContactLine",
    "DrawMore",
    "DrawnBy",
    "DustLimitLine",
    "DustReport",
    "Duty",
    "ExtraDone",
    "FanForRoom",
    "FitAgain",
    "FreshAir",
    "Gear",
    "Had",
    "LimitNotKnown",
    "MeasureAir",
    "NoClothLeft",
    "NoFanDoes",
    "NoMaskDoes",
    "NotLikeThis",
    "OilyWaste",
    "OnlyInBooth",
    "Precautions",
    "Purpose",
    "PutOnLess",
    "Reckoning",
    "RoomAir",
    "RowCare",
    "Safety",
    "SandedTooEarly",
    "SandingAir",
    "Session",
    "SessionReport",
    "SplitSession",
    "Trigger",
    "Unmeasured",
    "VocLine",
    "VocStanding",
    "WearMask",
    "background_of",
    "cautions",
    "dangers",
    "dust_report",
    "fire_air",
    "health_air",
    "mass_in_air",
    "may_be_reckoned",
    "molar_volume",
    "of_old_paint",
    "precautions",
    "safety_report",
    "sanding_air",
    "vapour_volume",
    "worst_cautions",
]
