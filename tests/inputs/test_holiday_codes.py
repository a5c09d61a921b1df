"""What is looked up of countries is what the library of holidays says."""

from __future__ import annotations

import pytest
from pydantic_core import PydanticCustomError

from finplan.inputs import public_holidays
from tests.holiday_codes import FILE, written


def test_the_file_is_what_the_library_says() -> None:
    assert FILE.read_text(encoding="utf-8") == written()


@pytest.mark.parametrize("code", ["PT", "GB-SCT", "PRT"])
def test_a_code_that_there_is(code: str) -> None:
    assert public_holidays.holidays_of(code) == code


@pytest.mark.parametrize("code", ["XX", "GB-XXX", "MAY", "gb", "", 3, None, "G" * 400])
def test_a_code_that_there_is_not(code: object) -> None:
    with pytest.raises(PydanticCustomError):
        public_holidays.holidays_of(code)
