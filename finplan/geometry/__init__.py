"""Plane geometry, free of what is made of it: paths, outlines, what they become set back, curves and integrals."""

from finplan.geometry.batten import batten
from finplan.geometry.corner import TooFarError, sharpness
from finplan.geometry.crossing import Strand, holds, meet, meets_itself
from finplan.geometry.curves import EllipseArc
from finplan.geometry.outline import Arc, Line, Link, Outline, cross
from finplan.geometry.outline_to_path import flattened, outline_path, strands_path
from finplan.geometry.parallel_curves import CornerLife, ParallelCurves, PeakLife
from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath
from finplan.geometry.path_reading import PathError, read_path
from finplan.geometry.path_shapes import arc, backwards, bounds, circle, closed, closed_of, line, rectangle
from finplan.geometry.path_to_outline import outline_of
from finplan.geometry.path_writing import coordinate_text, path_data
from finplan.geometry.placement import AS_IT_IS, Pose, on_paper
from finplan.geometry.quadrature import TOLERANCE, integrate
from finplan.geometry.spline import SplineSpan, spline_spans

__all__ = [
    "AS_IT_IS",
    "TOLERANCE",
    "Arc",
    "ArcTo",
    "CornerLife",
    "CubicTo",
    "EllipseArc",
    "Line",
    "LineTo",
    "Link",
    "Outline",
    "ParallelCurves",
    "PathError",
    "PeakLife",
    "Pose",
    "QuadraticTo",
    "Segment",
    "SplineSpan",
    "Strand",
    "Subpath",
    "TooFarError",
    "arc",
    "backwards",
    "batten",
    "bounds",
    "circle",
    "closed",
    "closed_of",
    "coordinate_text",
    "cross",
    "flattened",
    "holds",
    "integrate",
    "line",
    "meet",
    "meets_itself",
    "on_paper",
    "outline_of",
    "outline_path",
    "path_data",
    "read_path",
    "rectangle",
    "sharpness",
    "spline_spans",
    "strands_path",
]
