"""A drawing of every part, as SVG, from the same geometry that gives its areas."""

from finplan.drawing.part import part_drawing
from finplan.drawing.piece import piece_drawings
from finplan.drawing.reduced import reduced
from finplan.drawing.svg import OURS, xml_text

__all__ = ["OURS", "part_drawing", "piece_drawings", "reduced", "xml_text"]
