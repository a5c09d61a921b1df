"""What other programs read: the results as typed rows, and those as JSON; rows for a spreadsheet.

Names are imported when they are asked for: whoever checks a file needs no rows of a timetable.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from finplan.lazy import lazily

if TYPE_CHECKING:
    from finplan.data.areas import areas_csv, areas_data
    from finplan.data.buying import BuyRow, buy_data
    from finplan.data.done import DoneRow, done_data
    from finplan.data.fault import FaultsRow, faults_data
    from finplan.data.fields import FieldsRow, fields_data
    from finplan.data.forms import BegunRow, FormsRow, begun_data, forms_data
    from finplan.data.learnt import LearntRow, learnt_data
    from finplan.data.ledger import LedgerRow, ledger_rows
    from finplan.data.materials import materials_data
    from finplan.data.materials_table import materials_csv
    from finplan.data.plan import PlanRow, plan_data
    from finplan.data.problems import CheckRow, problems_data
    from finplan.data.quote import QuoteRow, quote_data
    from finplan.data.repair import RepairRow, repair_data
    from finplan.data.review import ReviewRow, review_data
    from finplan.data.row import as_json, plain_data
    from finplan.data.safety import safety_data
    from finplan.data.sanding import sanding_data
    from finplan.data.stock import StockRow, stock_data
    from finplan.data.systems import SystemsRow, systems_data
    from finplan.data.timetable import steps_csv, timetable_data

__all__ = [
    "BegunRow",
    "BuyRow",
    "CheckRow",
    "DoneRow",
    "FaultsRow",
    "FieldsRow",
    "FormsRow",
    "LearntRow",
    "LedgerRow",
    "PlanRow",
    "QuoteRow",
    "RepairRow",
    "ReviewRow",
    "StockRow",
    "SystemsRow",
    "areas_csv",
    "areas_data",
    "as_json",
    "begun_data",
    "buy_data",
    "done_data",
    "faults_data",
    "fields_data",
    "forms_data",
    "learnt_data",
    "ledger_rows",
    "materials_csv",
    "materials_data",
    "plain_data",
    "plan_data",
    "problems_data",
    "quote_data",
    "repair_data",
    "review_data",
    "safety_data",
    "sanding_data",
    "steps_csv",
    "stock_data",
    "systems_data",
    "timetable_data",
]

if not TYPE_CHECKING:
    __getattr__ = lazily(
        __name__,
        {
            "buying": ("BuyRow", "buy_data"),
            "areas": ("areas_csv", "areas_data"),
            "done": ("DoneRow", "done_data"),
            "fault": ("FaultsRow", "faults_data"),
            "fields": ("FieldsRow", "fields_data"),
            "forms": ("BegunRow", "FormsRow", "begun_data", "forms_data"),
            "learnt": ("LearntRow", "learnt_data"),
            "ledger": ("LedgerRow", "ledger_rows"),
            "materials": ("materials_data",),
            "materials_table": ("materials_csv",),
            "plan": ("PlanRow", "plan_data"),
            "problems": ("CheckRow", "problems_data"),
            "quote": ("QuoteRow", "quote_data"),
            "repair": ("RepairRow", "repair_data"),
            "review": ("ReviewRow", "review_data"),
            "row": ("as_json", "plain_data"),
            "safety": ("safety_data",),
            "sanding": ("sanding_data",),
            "stock": ("StockRow", "stock_data"),
            "systems": ("SystemsRow", "systems_data"),
            "timetable": ("steps_csv", "timetable_data"),
        },
    )
