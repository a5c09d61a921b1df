"""Makes the guide's page of all fields: ``python -m tests.fields.page``."""

from __future__ import annotations

from pathlib import Path

import finplan
from finplan.fields import fields_page

PAGE = Path(finplan.__file__).parent / "guide" / "fields.md"

if __name__ == "__main__":
    PAGE.write_text(fields_page(), encoding="utf-8")
