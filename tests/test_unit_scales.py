"""What is looked up of units is what the unit library says."""

from __future__ import annotations

import pytest

from finplan.quantity import QuantityError, scales
from finplan.quantity.kinds import PLAIN
from tests.unit_scales import FILE, kinds, texts, written


def test_the_file_is_what_the_library_says() -> None:
    assert FILE.read_text(encoding="utf-8") == written()


def test_a_unit_of_another_kind_is_refused_in_the_same_words() -> None:
    for kind in PLAIN:
        for other in PLAIN:
            for text in texts(other) if other is not kind else ():
                with pytest.raises(QuantityError) as looked_up:
                    scales.scale_of(text, kind)
                with pytest.raises(QuantityError) as reckoned:
                    scales._reckoned_scale(text, kind)
                assert str(looked_up.value) == str(reckoned.value), (text, kind)


def test_no_name_of_the_units_file_is_left_out() -> None:
    known = scales._known_scales()
    for kind in kinds():
        for name in scales._known_units(kind):
            assert name in known[kind.unit] or scales._unit_expression(name) is None, (name, kind)
