"""A drawing made smaller, as it stands beside something else."""

from __future__ import annotations

import re

from finplan.geometry import coordinate_text

_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')
_SCALE = re.compile(r'(data-role="caption"[^>]*>[^<]*?), [\d.]+ : [\d.]+<')


def reduced(drawing: str, width_mm: float) -> str:
    """Return a drawing at another width; it says no scale any more, since its own no longer holds.

    Parameters
    ----------
    drawing
        As ``part_drawing`` gives it
    width_mm
        How wide it is to be on paper. [mm]
    """

    def smaller(size: re.Match[str]) -> str:
        width, height = float(size[1]), float(size[2])
        return f'width="{coordinate_text(width_mm)}mm" height="{coordinate_text(height * width_mm / width)}mm"'

    return _SCALE.sub(r"\1<", _SIZE.sub(smaller, drawing, count=1))
