"""What each item of a piece gets: its coating system, unrolled."""

from finplan.system.coating import putting_on_hours
from finplan.system.compatibility import Clash, clashes, compatibility_findings
from finplan.system.faces import face_kind
from finplan.system.sides import FIRST_SIDE, SECOND_SIDE, WIDE_FACES, groups_of_side, side_label, two_sides
from finplan.system.treatment import FaceGroup, FaceKind, Treatment, TreatmentStep, steps_by_id
from finplan.system.unroll import missing_choices, treatments

__all__ = [
    "FIRST_SIDE",
    "SECOND_SIDE",
    "WIDE_FACES",
    "Clash",
    "FaceGroup",
    "FaceKind",
    "Treatment",
    "TreatmentStep",
    "clashes",
    "compatibility_findings",
    "face_kind",
    "groups_of_side",
    "missing_choices",
    "putting_on_hours",
    "side_label",
    "steps_by_id",
    "treatments",
    "two_sides",
]
