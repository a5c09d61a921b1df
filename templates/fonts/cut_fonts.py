"""Cut the bundled fonts from their full families: ``python templates/fonts/cut_fonts.py FOLDER``.

FOLDER holds Inter-Regular.otf, Inter-SemiBold.otf (Debian: package fonts-inter) and
NotoSansCJK-Regular.ttc (package fonts-noto-cjk), side by side or in folders of their own; both are under
/usr/share/fonts/opentype. The cut files are written beside this script; the same FOLDER gives the same bytes.
It is run by hand when a family or the selection of characters changes, never while the program runs.

Why the fonts are as they are:

- Digits are tabular by default, so that columns of figures line up without a font feature.
- There is no GSUB table: the page renderer embeds whole fonts and maps glyphs to text by the character map alone, so a
  glyph reached by a feature would look right and be copied and read aloud as garbage.
- The box glyph for unknown characters is kept: a character that no font has must not vanish in silence.
- The font of Chinese, Japanese and Korean is too large to be put into a sheet whole:
  ``finplan/typesetting/fallback.py`` cuts from it what a page needs. It has spaces of its own, since a space after
  one of its characters is set in it too.
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
"""What the sheet itself says."""
NAMES = (
    *OURS,
    (0x0100, 0x024F),  # Latin Extended-A and -B
    (0x02BB, 0x02BC),  # letters that look like apostrophes
    (0x0370, 0x03FF),  # Greek
    (0x0400, 0x045F),  # Cyrillic of the Slavic languages
    (0x0490, 0x04FF),  # Cyrillic of other languages, and the Ukrainian letter ghe with upturn
    (0x1E80, 0x1E85),  # Welsh
    (0x1E9E, 0x1E9E),  # capital sharp s
    (0x1EA0, 0x1EF9),  # Vietnamese; dots below of African languages
    (0x20AC, 0x20AC),  # euro
    (0x2116, 0x2116),  # numero
    (0x2122, 0x2122),  # trade mark
    *((ord(letter), ord(letter)) for letter in "ɓɔɖɗəɛɣɨɲʉʋʔʷḌḍḤḥḶḷḾḿṄṅṚṛṢṣṬṭṼṽẒẓ"),  # of Africa, Asturias
    *((mark, mark) for mark in (0x0300, 0x0301, 0x0302, 0x0303, 0x0304, 0x0308, 0x030C, 0x0323, 0x0327, 0x0331)),
)
"""What makers and customers are called, in any language of the Latin, Greek and Cyrillic alphabets.

Source: Unicode CLDR 42, the main exemplar characters of all languages.
"""
STYLES = {"Regular": NAMES, "SemiBold": NAMES}
EAST_ASIAN = (
    (0x0020, 0x0020),  # space
    (0x00A0, 0x00A0),  # space that does not break
    (0x1100, 0x11FF),  # parts of Korean syllables
    (0x2010, 0x27BF),  # signs of the East Asian standards
    (0x2E80, 0x2FDF),  # radicals
    (0x3000, 0x33FF),  # punctuation, kana, bopomofo, parts of Korean syllables, enclosed and squared words
    (0x4E00, 0x9FFF),  # Chinese characters: all of the basic block, since names hold rare ones
    (0xAC00, 0xD7A3),  # Korean syllables
    (0xF900, 0xFAFF),  # other forms of Chinese characters
    (0xFF00, 0xFFEF),  # wide and narrow forms
)
"""What Inter lacks of Chinese, Japanese and Korean: all of GB 2312, Big5, JIS X 0208 and KS X 1001, and more."""
JAPANESE = 0
"""Which font of the collection: the one whose forms of Chinese characters are the Japanese ones."""


def cut(source: Path, target: Path, characters: tuple[tuple[int, int], ...]) -> None:
    """Write the font of names in *source*, cut down to *characters*, to *target*."""
    font = TTFont(source, recalcTimestamp=False)
    tabular = _tabular_digits(font)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap.update({code: tabular[name] for code, name in table.cmap.items() if name in tabular})
    _save(font, target, characters, Options(layout_features=["kern", "mark", "mkmk"]))


def cut_east_asian(source: Path, target: Path) -> None:
    """Write the Japanese font of the collection in *source*, cut down to East Asian characters, to *target*."""
    font = TTFont(source, fontNumber=JAPANESE, recalcTimestamp=False)
    options = Options(layout_features=[])
    options.drop_tables += ["BASE", "GDEF", "GPOS", "VORG", "vhea", "vmtx"]  # written from left to right here
    _save(font, target, EAST_ASIAN, options)


def _save(font: TTFont, target: Path, characters: tuple[tuple[int, int], ...], options: Options) -> None:
    options.hinting = False
    options.notdef_outline = True
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
    """Cut every font from the folder that is named."""
    if len(arguments) != 1:
        sys.exit(__doc__)
    folder, here = Path(arguments[0]), Path(__file__).parent
    for style, characters in STYLES.items():
        name = f"Inter-{style}.otf"
        cut(_found(folder, name), here / name, characters)
    cut_east_asian(_found(folder, "NotoSansCJK-Regular.ttc"), here / "NotoSansCJK-Regular.otf")


def _found(folder: Path, name: str) -> Path:
    for file in sorted(folder.rglob(name)):
        return file
    sys.exit(f"{folder} holds no {name}")


if __name__ == "__main__":
    main(sys.argv[1:])
