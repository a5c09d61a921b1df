"""How many parts a second the surface engine measures; a plain script, run by hand:

    python tests/benchmarks/bench_surface.py

Where the binding of a modelling kernel (the package cadquery-ocp) is at hand, the same disc and leg are measured with
it as well, in the same run, and the ratio is shown.
"""

from __future__ import annotations

import cmath
import math
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from finplan.inputs.shapes import SHAPES, Panel, Part, Turned
from finplan.reading import validate
from finplan.surface.panel import panel_faces
from finplan.surface.turned import turned_faces

DISC = {"shape": "disc", "diameter": 1100, "thickness": 28, "edge": {"top": "roundover 6", "bottom": "chamfer 3"}}
LEG = {
    "shape": "turned",
    "elements": [
        {"block": {"side": 70, "length": 130}},
        {"fillet": {"diameter": 52, "length": 8}},
        {"bead": {"diameter": 64, "neck": 48, "length": 22}},
        {"cove": {"diameter": 40, "rim": 48, "length": 18}},
        {"curve": {"points": [[0, 48], [150, 62], [420, 36]]}},
        {"taper": {"from": 36, "to": 30, "length": 102}},
        {"bead": {"diameter": 34, "neck": 30, "length": 10}},
        {"fillet": {"diameter": 30, "length": 8}},
        {"cove": {"diameter": 24, "rim": 30, "length": 14}},
        {"cylinder": {"diameter": 28, "length": 40}},
    ],
}


def flower(curves: int) -> str:
    """Return the path of a closed smooth outline of cubic curves, three digits a number, as drawing programs write."""
    points = [cmath.rect(500 + 20 * math.cos(2.4 * index), 2 * math.pi * index / curves) for index in range(curves)]

    def text(point: complex) -> str:
        return f"{point.real:.3f} {point.imag:.3f}"

    path = f"M{text(points[0])}"
    for index in range(curves):
        before, start, end, after = (points[(index + step) % curves] for step in (-1, 0, 1, 2))
        path += f" C{text(start + (end - before) / 6)} {text(end - (after - start) / 6)} {text(end)}"
    return path + " Z"


def part_of(fields: dict[str, Any]) -> Part:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths="mm")
    if part is None:
        raise SystemExit(str(findings))
    return part


def measure(part: Part) -> None:
    if isinstance(part, Turned):
        turned_faces(part)
    elif isinstance(part, Panel):
        panel_faces(part)


def per_second(do: Callable[[], object], seconds: float = 1.0) -> float:
    """Return how often *do* can be done in a second, the best of three runs."""
    best = 0.0
    for _ in range(3):
        count, start = 0, time.perf_counter()
        while time.perf_counter() - start < seconds / 3:
            do()
            count += 1
        best = max(best, count / (time.perf_counter() - start))
    return best


def kernel() -> dict[str, Callable[[dict[str, Any]], object]]:
    """Return how the kernel measures a disc and a leg; nothing where it is not at hand."""
    sys.path.insert(0, str(Path(__file__).parents[1] / "reference"))
    try:
        import cad_panels_and_turnings as reference  # type: ignore[import-not-found]
    except ImportError:
        return {}
    return {"disc": reference.disc, "leg of ten elements": reference.turning}


def main() -> None:
    outline = {"shape": "outline", "path": flower(50), "unit": "mm", "thickness": 28, "edge": DISC["edge"]}
    cases: dict[str, dict[str, Any]] = {"disc": DISC, "leg of ten elements": LEG, "outline of fifty curves": outline}
    by_kernel = kernel()
    for name, fields in cases.items():
        part = part_of(fields)
        ours = per_second(lambda part=part: measure(part))  # type: ignore[misc]
        line = f"{name}: {ours:,.0f} a second"
        if name in by_kernel:
            theirs = per_second(lambda name=name, fields=fields: by_kernel[name](fields))  # type: ignore[misc]
            line += f", the kernel {theirs:,.1f}: {ours / theirs:,.0f} times as many"
        print(line)  # noqa: T201


if __name__ == "__main__":
    main()
