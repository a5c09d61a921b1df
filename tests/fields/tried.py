"""Two values of every field of the files, by topic and field."""

from __future__ import annotations

from tests.fields.tried_pieces import ASSEMBLY_FIELDS, FACE_FIELDS, JOINT_FIELDS, PART_FIELDS, PIECE_FIELDS
from tests.fields.tried_shapes import ELEMENT_FIELDS, SHAPE_FIELDS
from tests.fields.tried_shops import SHOP_FIELDS
from tests.fields.trying import Tried

TRIED: dict[str, dict[str, Tried]] = {
    "piece": PIECE_FIELDS,
    "part": PART_FIELDS,
    "face": FACE_FIELDS,
    "assembly": ASSEMBLY_FIELDS,
    "joint": JOINT_FIELDS,
    **SHAPE_FIELDS,
    **ELEMENT_FIELDS,
    "shop": SHOP_FIELDS,
}
