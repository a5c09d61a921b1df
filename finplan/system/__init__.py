"""What each item of a piece gets: its coating system, unrolled."""

from finplan.system.coating import putting_on_hours
from finplan.system.coats_asked import too_many_coats, under_nothing
from finplan.system.compatibility import Mismatch, compatibility_findings, mismatches, own_system_risks
from finplan.system.extra_work import (
    WHOLE_PIECE,
    ExtraWork,
    all_extra_work,
    item_work,
    portions_of,
    whole_piece_item,
    whole_piece_work,
)
from finplan.system.hand_over import not_handed_over
from finplan.system.ids import (
    FIRST_SIDE,
    SECOND_SIDE,
    Side,
    drying_id,
    in_plan,
    numbered_id,
    piece_key,
    sample_called,
    side_id,
    step_id,
    whole_piece_id,
    work_id,
)
from finplan.system.likeness import Likeness, likeness
from finplan.system.mending import CoatRepair, mended
from finplan.system.old_paint import heat_on_veneer, not_on_lead, over_kept_film
from finplan.system.sides import WIDE_FACES, faces_told, groups_of_side, side_label, two_sides
from finplan.system.treatment import (
    CoatStep,
    FaceGroup,
    FaceKind,
    LeftToDry,
    Mended,
    Treatment,
    TreatmentStep,
    as_coat,
    steps_by_id,
)
from finplan.system.unroll import missing_choices, treatments
from finplan.system.without_effect import without_effect

__all__ = [
    "FIRST_SIDE",
    "SECOND_SIDE",
    "WHOLE_PIECE",
    "WIDE_FACES",
    "Clash",
    "CoatRepair",
    "CoatStep",
    "ExtraWork",
    "FaceGroup",
    "FaceKind",
    "LeftToDry",
    "Likeness",
    "Mended",
    "Mismatch",
    "Side",
    "Treatment",
    "TreatmentStep",
    "all_extra_work",
    "as_coat",
    "compatibility_findings",
    "drying_id",
    "faces_told",
    "groups_of_side",
    "heat_on_veneer",
    "in_plan",
    "item_work",
    "likeness",
    "mended",
    "mismatches",
    "missing_choices",
    "not_handed_over",
    "not_on_lead",
    "numbered_id",
    "over_kept_film",
    "own_system_risks",
    "piece_key",
    "portions_of",
    "putting_on_hours",
    "sample_called",
    "side_id",
    "side_label",
    "step_id",
    "steps_by_id",
    "too_many_coats",
    "treatments",
    "two_sides",
    "under_nothing",
    "whole_piece_id",
    "whole_piece_item",
    "whole_piece_work",
    "without_effect",
    "work_id",
]
