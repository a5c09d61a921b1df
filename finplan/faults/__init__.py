"""When a coat goes wrong: causes that a plan and its record bear out or rule out, what to do, and from when."""

from finplan.faults.diagnosis import FACTS, CauseHere, Diagnosis, diagnosed, fault_named, possible_faults
from finplan.faults.evidence import BornOut, Evidence
from finplan.faults.scene import OnRecord, Scene

__all__ = [
    "FACTS",
    "BornOut",
    "CauseHere",
    "Diagnosis",
    "Evidence",
    "OnRecord",
    "Scene",
    "diagnosed",
    "fault_named",
    "possible_faults",
]
