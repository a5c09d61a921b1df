"""What other programs read: the results as plain data for JSON."""

from finplan.export.areas import areas_csv, areas_data
from finplan.export.materials import materials_csv, materials_data
from finplan.export.plan import plan_data
from finplan.export.problems import problems_data
from finplan.export.safety import safety_data
from finplan.export.sanding import sanding_data
from finplan.export.systems import systems_data
from finplan.export.text import as_json
from finplan.export.timetable import steps_csv, timetable_data

__all__ = [
    "areas_csv",
    "areas_data",
    "as_json",
    "materials_csv",
    "materials_data",
    "plan_data",
    "problems_data",
    "safety_data",
    "sanding_data",
    "steps_csv",
    "systems_data",
    "timetable_data",
]
