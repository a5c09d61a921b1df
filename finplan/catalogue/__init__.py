"""Generic finishing data, each value with its source: models of the records and their loader."""

from finplan.catalogue.abrasive import Abrasive, BareWood, Caps, Grades, IncomingSurface, SandingMethod
from finplan.catalogue.absorption import AbsorptionFactors
from finplan.catalogue.air import AirTarget, Evaporation, Exhaust, NearZone, Respirator
from finplan.catalogue.allowance import Allowance
from finplan.catalogue.caution import Caution, Moment, Trigger
from finplan.catalogue.compatibility import Compatibility, finish_called, is_called, system_called, timber_called
from finplan.catalogue.consumable import Consumable
from finplan.catalogue.drying import DRYING_PHASES, DryingLaw, DryingPace, DryingPhase
from finplan.catalogue.dust import DustClass, DustLimit
from finplan.catalogue.equipment import Equipment
from finplan.catalogue.extra_step import AFTER, BEFORE, ChargedAs, ExtraStep, FitFor, Phase
from finplan.catalogue.fault import (
    CannotOccur,
    CoatFault,
    DriedTo,
    FaultAnswer,
    FaultCause,
    LikelyCause,
    PlanFact,
    RepairDeed,
    RepairStep,
    fault_called,
)
from finplan.catalogue.files import CatalogueFiles
from finplan.catalogue.finish import Family, FilmFormation, Finish
from finplan.catalogue.flammability import Flammability
from finplan.catalogue.grade import CAMI, grade_name, grade_sizes, is_cami, on_other_scale
from finplan.catalogue.learning import LearningRule
from finplan.catalogue.lifting import Lifting
from finplan.catalogue.loader import MODELS, Catalogue, bundled_catalogue, catalogue_from
from finplan.catalogue.measuring import CupMarks, Measuring, ScaleMarks
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.mixture import Dissolve, Mix, MixComponent
from finplan.catalogue.moisture import WoodMoisture
from finplan.catalogue.own import LABEL, overruled, read_own, with_own
from finplan.catalogue.pack import Amount, Measure, Pack, PackChoice, PackSizes, PiecePack, amount, by_size
from finplan.catalogue.record import Rests, Sourced, SourceRecord
from finplan.catalogue.references import RECORD_NAMES
from finplan.catalogue.regulation import ContactNote, OldPaint, VocLimit
from finplan.catalogue.sanding_rule import SandingRules
from finplan.catalogue.shop_air import ShopAir
from finplan.catalogue.solvent import ExposureLimits, Solvent
from finplan.catalogue.system import Ratings, Step, StepDeed, StopClass, System
from finplan.catalogue.timber import SheetGoods, Timber
from finplan.catalogue.time_in_hand import TimeInHand
from finplan.catalogue.waste import WasteCan
from finplan.catalogue.work import SmallJob
from finplan.catalogue.workmanship import Workmanship

__all__ = [
    "AFTER",
    "BEFORE",
    "CAMI",
    "DRYING_PHASES",
    "LABEL",
    "MODELS",
    "RECORD_NAMES",
    "Abrasive",
    "AbsorptionFactors",
    "AirTarget",
    "Allowance",
    "Amount",
    "ApplicationMethod",
    "BareWood",
    "CannotOccur",
    "Caps",
    "Catalogue",
    "CatalogueFiles",
    "Caution",
    "ChargedAs",
    "CoatFault",
    "Compatibility",
    "Consumable",
    "ContactNote",
    "CupMarks",
    "Dissolve",
    "DriedTo",
    "DryingLaw",
    "DryingPace",
    "DryingPhase",
    "DustClass",
    "DustLimit",
    "Equipment",
    "Evaporation",
    "Exhaust",
    "ExposureLimits",
    "ExtraStep",
    "Family",
    "FaultAnswer",
    "FaultCause",
    "FilmFormation",
    "Finish",
    "FitFor",
    "Flammability",
    "Grades",
    "IncomingSurface",
    "LearningRule",
    "Lifting",
    "LikelyCause",
    "Measure",
    "Measuring",
    "Mix",
    "MixComponent",
    "Moment",
    "NearZone",
    "OldPaint",
    "Pack",
    "PackChoice",
    "PackSizes",
    "Phase",
    "PiecePack",
    "PlanFact",
    "Ratings",
    "RepairDeed",
    "RepairStep",
    "Respirator",
    "Rests",
    "SandingMethod",
    "SandingRules",
    "ScaleMarks",
    "SheetGoods",
    "ShopAir",
    "SmallJob",
    "Solvent",
    "SourceRecord",
    "Sourced",
    "Step",
    "StepDeed",
    "StopClass",
    "System",
    "Timber",
    "TimeInHand",
    "Trigger",
    "VocLimit",
    "WasteCan",
    "WoodMoisture",
    "Workmanship",
    "amount",
    "bundled_catalogue",
    "by_size",
    "catalogue_from",
    "fault_called",
    "finish_called",
    "grade_name",
    "grade_sizes",
    "is_called",
    "is_cami",
    "on_other_scale",
    "overruled",
    "read_own",
    "system_called",
    "timber_called",
    "with_own",
]
