"""Safety: the cautions that this plan calls for."""

from finplan.catalogue.caution import Trigger
from finplan.safety.cautions import CautionLine, cautions, dangers

__all__ = ["CautionLine", "Trigger", "cautions", "dangers"]
