"""What each item of a piece gets: its coating system, unrolled."""

from finplan.system.faces import face_kind
from finplan.system.treatment import FaceGroup, FaceKind, Treatment, TreatmentStep
from finplan.system.unroll import treatments

__all__ = ["FaceGroup", "FaceKind", "Treatment", "TreatmentStep", "face_kind", "treatments"]
