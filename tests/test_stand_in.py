"""What stands in for a library that is not needed makes way for it where it is."""

from __future__ import annotations

import subprocess
import sys

ASKED = """
import sys
from datetime import date
from finplan.inputs.public_holidays import public_holidays
from finplan.scheduling.solver import cp_model

found = public_holidays("GB-SCT", 2027)
print("pandas" in sys.modules, "holidays.countries" in sys.modules, "holidays.countries.spain" in sys.modules)

import holidays.countries
import pandas

print(found == frozenset(holidays.country_holidays("GB", subdiv="SCT", years=2027)), date(2027, 11, 30) in found)
print(holidays.countries.Spain.__name__, cp_model.pd.Series is pandas.Series)
"""


def test_neither_series_nor_all_countries_are_loaded_until_they_are_asked_for() -> None:
    done = subprocess.run([sys.executable, "-c", ASKED], capture_output=True, text=True, check=True)
    # St Andrew's Day is a bank holiday in Scotland: Banking and Financial Dealings Act 1971, schedule 1 as amended.
    assert done.stdout.splitlines() == ["False False False", "True True", "Spain True"]
