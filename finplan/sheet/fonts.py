"""The bundled fonts: as CSS that carries them, and which characters they hold."""

from __future__ import annotations

import base64
import struct
from functools import cache

from finplan.resources import data_dir

FAMILY = "Sheet"
"""A name of our own, so that a font of the machine is never mixed in."""
_FACES = (
    ("Inter-Regular.otf", "normal", 400),
    ("Inter-Italic.otf", "italic", 400),
    ("Inter-SemiBold.otf", "normal", 600),
)
_FORMAT_SEGMENTS = 4


@cache
def font_faces() -> str:
    """Return the ``@font-face`` rules with the fonts inside them."""
    rules = []
    for file, style, weight in _FACES:
        data = base64.b64encode((data_dir("templates") / "fonts" / file).read_bytes()).decode("ascii")
        rules.append(
            f'@font-face{{font-family:"{FAMILY}";font-style:{style};font-weight:{weight};'
            f'src:url("data:font/otf;base64,{data}") format("opentype")}}'
        )
    return "\n".join(rules)


@cache
def characters() -> frozenset[int]:
    """Return the code points that the font of names has a glyph for.

    Notes
    -----
    Read from the font's character map, a ``cmap`` subtable of format 4: runs of code points up to U+FFFF.
    Source: ISO/IEC 14496-22 (OpenType), ``cmap``.
    """
    data = (data_dir("templates") / "fonts" / _FACES[0][0]).read_bytes()
    tables = struct.unpack_from(">H", data, 4)[0]
    starts = (12 + 16 * index for index in range(tables))
    cmap = next(struct.unpack_from(">I", data, at + 8)[0] for at in starts if data[at : at + 4] == b"cmap")
    found: set[int] = set()
    for index in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        offset = cmap + struct.unpack_from(">I", data, cmap + 4 + 8 * index + 4)[0]
        if struct.unpack_from(">H", data, offset)[0] != _FORMAT_SEGMENTS:
            continue
        count = struct.unpack_from(">H", data, offset + 6)[0] // 2
        ends = struct.unpack_from(f">{count}H", data, offset + 14)
        begins = struct.unpack_from(f">{count}H", data, offset + 16 + 2 * count)
        for first, last in zip(begins, ends, strict=True):
            found.update(range(first, last + 1))
    return frozenset(found - {0xFFFF})
