"""Cut the bundled fonts from the full Inter family: ``python templates/fonts/cut_fonts.py FOLDER``.

FOLDER holds Inter-Regular.otf, Inter-Italic.otf and Inter-SemiBold.otf (Debian: package fonts-inter, folder
/usr/share/fonts/opentype/inter). The cut files are written beside this script; the same FOLDER gives the same bytes.
It is run by hand when the family or the selection of characters changes, never while the program runs.

Why the fonts are as they are:

- Digits are tabular by default, so that columns of figures line up without a font feature.
- There is no GSUB table: the page renderer embeds whole fonts and maps glyphs to text by the character map alone, so a
  glyph reached by a feature would look right and be copied and read aloud as garbage.
- The box glyph for unknown characters is kept: a character that no font has must not vanish in silence.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

OURS = (
    (0x0020, 0x007E),  # Basic Latin
    (0x00A0, 0x00FF),  # Latin-1
    (0x2010, 0x2027),  # dashes, quotation marks, dots
    (0x202F, 0x203A),  # narrow space, per mille, primes, angle quotation marks
    (0x2044, 0x2044),  # fraction slash
    (0x2080, 0x2089),  # subscripts
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),  # minus
    (0x2248, 0x2265),  # about, unequal, at most, at least
)
"""What the sheet itself says, and so all that is needed in italics, which are never used for a maker's words."""
NAMES = (
    *OURS,
    (0x0100, 0x024F),  # Latin Extended-A and -B
    (0x02BB, 0x02BC),  # letters that look like apostrophes
    (0x0370, 0x03FF),  # Greek
    (0x0400, 0x045F),  # Cyrillic as it is commonly written
    (0x0490, 0x0491),  # the Ukrainian letter ghe with upturn
    (0x1E80, 0x1E85),  # Welsh
    (0x1E9E, 0x1E9E),  # capital sharp s
    (0x20AC, 0x20AC),  # euro
    (0x2116, 0x2116),  # numero
    (0x2122, 0x2122),  # trade mark
)
"""What makers and customers are called."""
STYLES = {"Regular": NAMES, "Italic": OURS, "SemiBold": NAMES}


def cut(source: Path, target: Path, characters: tuple[tuple[int, int], ...]) -> None:
    """Write the font in *source*, cut down to *characters*, to *target*."""
    font = TTFont(source, recalcTimestamp=False)
    tabular = _tabular_digits(font)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap.update({code: tabular[name] for code, name in table.cmap.items() if name in tabular})
    options = Options(layout_features=["kern", "mark", "mkmk"], hinting=False, notdef_outline=True)
    options.drop_tables += ["GSUB"]
    options.name_IDs = [0, 1, 2, 4, 5, 6, 13, 14, 16, 17]  # copyright and licence travel with the font
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in characters for code in range(first, last + 1)])
    subsetter.subset(font)
    font.save(target)


def _tabular_digits(font: TTFont) -> dict[str, str]:
    """Return the tabular glyph of every digit, by the name of the usual one."""
    digits = {font.getBestCmap()[ord(digit)] for digit in "0123456789"}
    layout = font["GSUB"].table
    lookups = {
        index
        for record in layout.FeatureList.FeatureRecord
        if record.FeatureTag == "tnum"
        for index in record.Feature.LookupListIndex
    }
    found: dict[str, str] = {}
    for index in sorted(lookups):
        for subtable in layout.LookupList.Lookup[index].SubTable:
            mapping = getattr(subtable, "ExtSubTable", subtable).mapping
            found.update({name: other for name, other in mapping.items() if name in digits})
    if set(found) != digits:
        msg = "the font has no tabular figures"
        raise ValueError(msg)
    return found


def main(arguments: list[str]) -> None:
    """Cut every style from the folder that is named."""
    if len(arguments) != 1:
        sys.exit(__doc__)
    for style, characters in STYLES.items():
        name = f"Inter-{style}.otf"
        cut(Path(arguments[0]) / name, Path(__file__).with_name(name), characters)


if __name__ == "__main__":
    main(sys.argv[1:])
