"""Parts modelled as a triangle mesh: a carved seat, a shell, anything that no other shape describes.

::

    seat:
      shape: mesh
      file: seat.stl        # STL, OBJ or PLY, beside the piece file
      unit: mm              # of one unit of the model
      grain: y              # x (also where nothing is said), y, z or a direction such as [1, 1, 0]
"""

import math
from pathlib import Path
from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, PrivateAttr, ValidationInfo, model_validator

from finplan import quantity
from finplan.inputs.shapes.mesh_file import MeshFigures, Vector, mesh_bytes, refuse_mesh
from finplan.inputs.shapes.part import Part
from finplan.reading import (
    Form,
    Reads,
    fail,
)

_AXES: dict[str, Vector] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}


def _file(value: object) -> str:
    if not isinstance(value, str):
        fail("this is not the name of a file", "expected a name such as seat.stl")
    return value


def _unit(value: object) -> float:
    if not isinstance(value, str) or not quantity.known_length_unit(value):
        fail(f"'{str(value)[:40]}' is not a unit of length", "expected mm, cm, m, in or ft")
    return quantity.read_quantity(1, quantity.LENGTH, bare_unit=value)


def _grain(value: object) -> Vector:
    expected = "expected x, y, z or a direction such as [1, 1, 0]"
    if isinstance(value, str) and value in _AXES:
        return _AXES[value]
    if not isinstance(value, (list, tuple)) or len(value) != 3:
        fail("this is not a direction", expected)
    numbers: list[float] = []
    for index, item in enumerate(value):
        if isinstance(item, bool) or not isinstance(item, (int, float)) or not abs(item) <= 1e9:
            fail(f"'{str(item)[:40]}' is not a number", expected, (index,))
        numbers.append(float(item))
    length = math.hypot(*numbers)
    if length < 1e-9:
        fail("the direction has no length", expected)
    return (numbers[0] / length, numbers[1] / length, numbers[2] / length)


_GRAIN_FORM = "an axis of the model, x, y or z, or a direction: [1, 1, 0]"
_DIRECTION_SCHEMA = {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}
_GRAIN_SCHEMA = {"anyOf": [{"enum": [*_AXES]}, _DIRECTION_SCHEMA]}
_GRAIN_AS = Form(_GRAIN_FORM, _GRAIN_SCHEMA)
_UNIT_FORM = Form("a unit of length: mm", {"enum": ["mm", "cm", "m", "in", "ft"]})


class Mesh(Part):
    """A model in triangles, of a carving or anything that no other shape describes.

    It is described at the head of this module, and read when the piece file is.
    """

    FACES: ClassVar[tuple[str, ...]] = ("surface",)
    shape: Literal["mesh"]
    file: Annotated[str, Reads(_file), Form("the name of a file beside the piece file: seat.stl")]
    """The file of the model, beside the piece file: STL, OBJ or PLY."""
    unit_mm: Annotated[float, Reads(_unit), _UNIT_FORM] = Field(
        description="the unit of the model: mm, cm, m, in or ft"
    )
    """What one of the model's units is."""
    grain: Annotated[Vector, Reads(_grain), _GRAIN_AS] = _AXES["x"]  # type: ignore[assignment]
    """Along which axis of the model, or in which direction, the grain runs."""
    _figures: MeshFigures = PrivateAttr()

    @property
    def figures(self) -> MeshFigures:
        """The area, end grain and size of the mesh."""
        return self._figures

    @model_validator(mode="after")
    def _read(self, info: ValidationInfo) -> Self:
        folder: Path | None = (info.context or {}).get("folder")
        raw = mesh_bytes(self.file, folder)
        try:
            from finplan.inputs.shapes.triangles import mesh_figures
        except ImportError:
            refuse_mesh(
                "reading a mesh needs a package that is not installed", "install it: pip install 'finplan[models]'"
            )
        self._figures = mesh_figures(raw, self.file, self.unit_mm, self.grain)
        return self
