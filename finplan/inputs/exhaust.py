"""What draws vapour off where it comes from: a spray booth, extraction at the bench; and spraying without either."""

import re
from typing import Annotated

from finplan.catalogue import Catalogue
from finplan.problems import shown
from finplan.reading import FlowM3H, Form, Reads, Record, VelocityMS, fail, length_mm

READ_THE_CODE = "I have read the local code"
_FACE = re.compile(r"\s*(.+?)\s*[x×]\s*(.+?)\s*", re.IGNORECASE)
_READ_OFF = 0.98
_UNIT = re.compile(r"[a-z]+\s*$", re.IGNORECASE)


def _face(value: object) -> float:
    match = _FACE.fullmatch(value) if isinstance(value, str) and len(value) <= 60 else None
    expected = "expected two lengths with their unit: 2.4 x 2.1 m, or 8 x 7 ft"
    if match is None:
        fail(f"{shown(value)} is not the face of a booth", expected)
    width, height = match.groups()
    unit = _UNIT.search(height)
    if unit is None:
        fail(f"{shown(value)} has no unit", expected)
    if _UNIT.search(width) is None:
        width = f"{width} {unit.group()}"
    return length_mm(width, None) * length_mm(height, None) / 1e6


class Booth(Record):
    """A spray booth. Its face is in m²."""

    face_m2: Annotated[float, Reads(_face), Form("two lengths: 2.4 x 2.1 m")]
    """The open side into which is sprayed: width and height."""
    velocity_m_s: VelocityMS
    """How fast the air goes in there, as measured, filters as they are."""

    @property
    def flow_m3_h(self) -> float:
        """What it draws."""
        return self.face_m2 * self.velocity_m_s * 3600


def takes_what_burns(booth: Booth | None, catalogue: Catalogue) -> bool:
    """Return whether what burns may be sprayed in a booth: there is one, and it draws as fast as the rule asks.

    The rule has 100 feet a minute, which is told, and read off, as 0.5 m/s.
    """
    return booth is not None and booth.velocity_m_s >= catalogue.exhausts["booth"].velocity_m_s * _READ_OFF


class Extraction(Record):
    """Extraction at the bench that blows outdoors."""

    flow_m3_h: FlowM3H
    """What it draws."""
    velocity_m_s: VelocityMS
    """How fast the air moves at the piece, as measured."""


def _declared(value: object) -> str:
    if not isinstance(value, str) or len(value) > 300 or not value.casefold().startswith(READ_THE_CODE.casefold()):
        fail(
            f"{shown(value)} does not say that the local code was read",
            f"expected the words: {READ_THE_CODE}; what they are good for is then on page 1",
        )
    return " ".join(value.split())


SprayWithoutBooth = Annotated[str, Reads(_declared), Form(f"the words: {READ_THE_CODE}")]
