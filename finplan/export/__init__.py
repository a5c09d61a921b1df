"""What other programs read: the results as plain data for JSON."""

from finplan.export.areas import areas_data
from finplan.export.materials import materials_csv, materials_data
from finplan.export.problems import problems_data
from finplan.export.safety import safety_data
from finplan.export.sanding import sanding_data
from finplan.export.systems import systems_data
from finplan.export.text import as_json
from finplan.export.timetable import timetable_data

__all__ = [
    "areas_data",
    "as_json",
    "materials_csv",
    "materials_data",
    "problems_data",
    "safety_data",
    "sanding_data",
    "systems_data",
    "timetable_data",
]
