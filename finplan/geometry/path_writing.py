"""Writing paths as SVG path data."""

from __future__ import annotations

from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Subpath


def coordinate_text(value: float) -> str:
    """Return a coordinate to the thousandth, without idle zeros.

    >>> coordinate_text(2.0), coordinate_text(-0.0001), coordinate_text(1 / 3)
    ('2', '0', '0.333')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Subpath) -> str:
    """Return the SVG path data of a path; it ends in Z where the path comes back to its start.

    >>> path_data(Subpath(0j, (LineTo(2 + 0j), LineTo(2 + 1j), LineTo(0j))))
    'M0 0L2 0L2 1L0 0Z'
    """
    text = f"M{_point(path.start)}"
    for segment in path.segments:
        match segment:
            case LineTo(end):
                text += f"L{_point(end)}"
            case CubicTo(first, second, end):
                text += f"C{_point(first)} {_point(second)} {_point(end)}"
            case QuadraticTo(control, end):
                text += f"Q{_point(control)} {_point(end)}"
            case ArcTo((x_radius, y_radius), rotation_deg, large, sweep, end):
                radii = f"{coordinate_text(x_radius)} {coordinate_text(y_radius)}"
                text += f"A{radii} {coordinate_text(rotation_deg)} {large:d} {sweep:d} {_point(end)}"
    returned = bool(path.segments) and abs(path.segments[-1].end - path.start) <= 1e-6
    return text + ("Z" if returned and len(path.segments) > 1 else "")


def _point(point: complex) -> str:
    return f"{coordinate_text(point.real)} {coordinate_text(point.imag)}"
