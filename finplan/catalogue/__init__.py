"""Generic finishing data, each value with its source: models of the records and their loader."""

from finplan.catalogue.abrasive import Abrasive, Caps, Grades, IncomingSurface, SandingMethod
from finplan.catalogue.caution import Caution
from finplan.catalogue.compatibility import Compatibility
from finplan.catalogue.consumable import Consumable
from finplan.catalogue.drying import DryingPace
from finplan.catalogue.finish import AbsorptionFactors, Finish, Pack, PackSizes
from finplan.catalogue.loader import MODELS, Catalogue, bundled_catalogue, load_catalogue
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.own import overruled, read_own, with_own
from finplan.catalogue.readiness import ready_h
from finplan.catalogue.record import Source, Sourced
from finplan.catalogue.selection import Wanted, selected
from finplan.catalogue.solvent import ExposureLimits, Solvent
from finplan.catalogue.system import Step, System
from finplan.catalogue.timber import Timber
from finplan.catalogue.work import SmallJob

__all__ = [
    "MODELS",
    "Abrasive",
    "AbsorptionFactors",
    "ApplicationMethod",
    "Caps",
    "Catalogue",
    "Caution",
    "Compatibility",
    "Consumable",
    "DryingPace",
    "ExposureLimits",
    "Finish",
    "Grades",
    "IncomingSurface",
    "Pack",
    "PackSizes",
    "SandingMethod",
    "SmallJob",
    "Solvent",
    "Source",
    "Sourced",
    "Step",
    "System",
    "Timber",
    "Wanted",
    "bundled_catalogue",
    "load_catalogue",
    "overruled",
    "read_own",
    "ready_h",
    "selected",
    "with_own",
]
