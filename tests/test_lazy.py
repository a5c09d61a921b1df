"""Names of a package that are imported when they are asked for."""

from __future__ import annotations

import pytest

from finplan.lazy import lazily


def test_a_name_that_its_module_would_hide_is_refused() -> None:
    # ``import finplan.x.areas`` sets the module in the package, and ``from finplan.x import areas`` gives that then.
    with pytest.raises(ValueError, match="names areas as its module"):
        lazily("finplan.x", {"areas": ("areas",), "sheet": ("page",)})


def test_an_unknown_name_is_told_as_python_does() -> None:
    with pytest.raises(AttributeError, match="module 'finplan' has no attribute 'nothing'"):
        lazily("finplan", {"problems": ("show_path",)})("nothing")
