"""How wide the letters of the bundled fonts are, as the font library reads them: ``templates/fonts/widths.json``.

Run as a program, it writes the file; a test holds the file to the fonts. The library that reads them takes longer to
load than all that is measured with it.
"""

from __future__ import annotations

import json

from fontTools.ttLib import TTFont

from tests.readme import ROOT

FOLDER = ROOT / "templates" / "fonts"
FILE = FOLDER / "widths.json"
FONTS = ("Inter-Regular.otf", "Inter-SemiBold.otf")


def widths_of(name: str) -> tuple[int, dict[int, list[int]]]:
    """Return the units in the size of the letters of a font, and how many of them its characters move on.

    These are in runs of code points, each by its first.
    """
    runs: dict[int, list[int]] = {}
    with TTFont(FOLDER / name) as font:
        first = before = -1
        for code, glyph in sorted(font.getBestCmap().items()):
            first = first if code == before + 1 else code
            runs.setdefault(first, []).append(font["hmtx"][glyph][0])
            before = code
        return font["head"].unitsPerEm, runs


def written() -> str:
    """Return the file as it ought to be, a run on a line."""
    fonts = []
    for name in FONTS:
        units, runs = widths_of(name)
        lines = ",\n".join(f"  {json.dumps(str(first))}: {json.dumps(widths)}" for first, widths in runs.items())
        fonts.append(f'{json.dumps(name)}: {{"units_per_em": {units}, "runs": {{\n{lines}\n}}}}')
    return "{\n" + ",\n".join(fonts) + "\n}\n"


if __name__ == "__main__":
    FILE.write_text(written(), encoding="utf-8")
