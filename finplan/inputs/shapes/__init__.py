"""The shapes that a part can have, as they are written in a piece file: one model a shape."""

from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.edge import SQUARE, Edge, Profile
from finplan.inputs.shapes.measured import Measured
from finplan.inputs.shapes.panel import Disc, Ellipse, Panel, Polygon, Rectangle, Stadium
from finplan.inputs.shapes.part import Exposure, FaceRule, Part, Patch
from finplan.inputs.shapes.straight import Board, Groove, Rod, SquareLeg
from finplan.inputs.shapes.turned import Bead, Block, Cove, Curve, Cylinder, Element, Taper, Turned

SHAPES: dict[str, type[Part]] = {
    "disc": Disc,
    "ellipse": Ellipse,
    "rectangle": Rectangle,
    "stadium": Stadium,
    "polygon": Polygon,
    "turned": Turned,
    "board": Board,
    "square-leg": SquareLeg,
    "rod": Rod,
    "measured": Measured,
}
"""The model of each shape by its name in a piece file."""

__all__ = [
    "SHAPES",
    "SQUARE",
    "Bead",
    "Block",
    "Board",
    "Circle",
    "Cove",
    "Curve",
    "Cylinder",
    "Disc",
    "Edge",
    "Element",
    "Ellipse",
    "Exposure",
    "FaceRule",
    "Groove",
    "Measured",
    "Panel",
    "Part",
    "Patch",
    "Polygon",
    "Profile",
    "Rectangle",
    "Rod",
    "SquareLeg",
    "Stadium",
    "Taper",
    "Turned",
]
