"""Parts whose areas were measured by hand: a carving, a caned seat."""

from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError, ValidationInfo

from finplan.inputs.shapes.part import Exposure, FaceRule, Part, default_exposure
from finplan.problems import Finding
from finplan.reading import AreaM2, Percentage, Reads, fail, fail_each, findings_of, wrong_with_name

MAX_FACES = 100


class MeasuredFace(FaceRule):
    """One face: its area and, where known, the share of end grain. The area is in m²."""

    area_m2: AreaM2
    """Its area, as measured."""
    end_grain_pct: Percentage = 0.0
    """How much of it drinks as end grain does."""


def _faces(value: object, info: ValidationInfo) -> dict[str, MeasuredFace]:
    if not isinstance(value, dict) or not 1 <= len(value) <= MAX_FACES:
        fail("there are no faces", "expected names with areas such as {seat: 0.3 m2}")
    faces: dict[str, MeasuredFace] = {}
    findings: list[Finding] = []
    for name, data in value.items():
        unnamed = wrong_with_name(name)
        if unnamed is not None:
            findings.append(Finding((name,), *unnamed, at_key=True))
        fields: Any = data if isinstance(data, dict) else {"area": data}
        try:
            faces[name] = MeasuredFace.model_validate(fields, context=info.context)
        except ValidationError as error:
            for finding in findings_of(error, MeasuredFace):
                path = (name, *finding.path) if isinstance(data, dict) else (name,)
                findings.append(Finding(path, finding.wrong, finding.expected, at_key=finding.at_key))
    if findings:
        fail_each(findings)
    return faces


class MeasuredPart(Part):
    """Faces with areas, named as the maker likes."""

    shape: Literal["measured"]
    faces: Annotated[dict[str, MeasuredFace], Reads(_faces, in_context=True)] = Field(  # type: ignore[assignment]
        description="names with areas such as {seat: 0.3 m2}"
    )

    def face_names(self) -> tuple[str, ...]:
        """As named in the file."""
        return tuple(self.faces)

    def exposure(self, face: str) -> Exposure:
        """As the file says, else as the name says."""
        return self.faces[face].exposure or default_exposure(face)
