"""Generic finishing data, each value with its source: models of the records and their loader."""

from finplan.catalogue.abrasive import Caps, Grades, IncomingSurface, SandingMethod
from finplan.catalogue.caution import Caution
from finplan.catalogue.drying import DryingPace
from finplan.catalogue.finish import AbsorptionFactors, Finish, Pack, PackSizes
from finplan.catalogue.loader import MODELS, Catalogue, bundled_catalogue, load_catalogue, overruled
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.record import Source, Sourced
from finplan.catalogue.system import Step, System
from finplan.catalogue.timber import Timber
from finplan.catalogue.work import SmallJob

__all__ = [
    "MODELS",
    "AbsorptionFactors",
    "ApplicationMethod",
    "Caps",
    "Catalogue",
    "Caution",
    "DryingPace",
    "Finish",
    "Grades",
    "IncomingSurface",
    "Pack",
    "PackSizes",
    "SandingMethod",
    "SmallJob",
    "Source",
    "Sourced",
    "Step",
    "System",
    "Timber",
    "bundled_catalogue",
    "load_catalogue",
    "overruled",
]
