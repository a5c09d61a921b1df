"""The shapes that a part can have, as they are written in a piece file: one model a shape."""

from finplan.inputs.shapes.bend import Bend
from finplan.inputs.shapes.board import Board, Groove
from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.composite import OPENINGS, Carcase, Door, DoorOpening, DoorPanel, Drawer, Frame, Raised
from finplan.inputs.shapes.edge import Edge, Profile
from finplan.inputs.shapes.measured import MeasuredFace, MeasuredPart
from finplan.inputs.shapes.mesh import Mesh
from finplan.inputs.shapes.mesh_file import MeshFigures
from finplan.inputs.shapes.moulding import Moulding
from finplan.inputs.shapes.outline import Offsets, OutlinePanel
from finplan.inputs.shapes.panel import Disc, Ellipse, Panel, Polygon, Rectangle, Stadium
from finplan.inputs.shapes.part import Exposure, FaceRule, Part, Patch, default_exposure
from finplan.inputs.shapes.rod import Rod
from finplan.inputs.shapes.section import Point, Section, SectionLine
from finplan.inputs.shapes.square_leg import SquareLeg
from finplan.inputs.shapes.turned import (
    ELEMENTS,
    Bead,
    Block,
    Cove,
    CrossSection,
    Curve,
    Cylinder,
    Element,
    Taper,
    Turned,
)

SHAPES: dict[str, type[Part]] = {
    "disc": Disc,
    "ellipse": Ellipse,
    "rectangle": Rectangle,
    "stadium": Stadium,
    "polygon": Polygon,
    "outline": OutlinePanel,
    "turned": Turned,
    "board": Board,
    "square-leg": SquareLeg,
    "rod": Rod,
    "moulding": Moulding,
    "carcase": Carcase,
    "drawer": Drawer,
    "door": Door,
    "mesh": Mesh,
    "measured": MeasuredPart,
}
"""The model of each shape by its name in a piece file."""

__all__ = [
    "ELEMENTS",
    "OPENINGS",
    "SHAPES",
    "Bead",
    "Bend",
    "Block",
    "Board",
    "Carcase",
    "Circle",
    "Cove",
    "CrossSection",
    "Curve",
    "Cylinder",
    "Disc",
    "Door",
    "DoorOpening",
    "DoorPanel",
    "Drawer",
    "Edge",
    "Element",
    "Ellipse",
    "Exposure",
    "FaceRule",
    "Frame",
    "Groove",
    "MeasuredFace",
    "MeasuredPart",
    "Mesh",
    "MeshFigures",
    "Moulding",
    "Offsets",
    "OutlinePanel",
    "Panel",
    "Part",
    "Patch",
    "Point",
    "Polygon",
    "Profile",
    "Raised",
    "Rectangle",
    "Rod",
    "Section",
    "SectionLine",
    "SquareLeg",
    "Stadium",
    "Taper",
    "Turned",
    "default_exposure",
]
