"""How high the front is reckoned to be, on which it hangs whether it is set closer or goes on on another page."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finplan.planning import Plan
from finplan.sheet.front_room import SETTINGS, FrontSizes, front_mm
from finplan.sheet.view import sheet_of

ROW_MM = 3.9
"""Of the picture, as its templates draw it where there are many."""


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda setting: setting.name or "wide")
def test_the_rows_of_the_picture_are_as_high_in_every_setting(setting: FrontSizes, table: Plan) -> None:
    """Of twelve stools, set as close as can be, the last lines stood on a page by themselves."""
    sheet = sheet_of(table)
    picture = sheet.first.picture
    assert picture is not None
    reckoned = {
        count: front_mm(
            replace(sheet.first, picture=replace(picture, rows=tuple([picture.rows[0]] * count))),
            sheet.name, sheet.page_size, setting,
        )
        for count in (7, 12, 20)
    }  # fmt: skip
    assert reckoned[12] - reckoned[7] == pytest.approx(5 * ROW_MM)
    assert reckoned[20] - reckoned[12] == pytest.approx(8 * ROW_MM)
