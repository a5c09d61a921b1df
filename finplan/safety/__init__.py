"""Safety: the cautions that this plan calls for."""

from finplan.safety.cautions import CautionLine, cautions, dangers

__all__ = ["CautionLine", "cautions", "dangers"]
