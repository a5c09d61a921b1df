"""The base of all models that come from files, and how their errors are worded."""

import re
from collections.abc import Mapping
from typing import Any, TypeVar, get_origin

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic_core import ErrorDetails

from finplan.problems import Finding, Where, hint, likely, shown

_UNIT_SUFFIX = re.compile(
    r"_(mm|m2|m3|ml|g|c|h|m3_h|kg_m3|m_s|m2_l|m2_h|g_min|g_l|g_mol|mg_m3|kpa|ppm|um|pct|per_m2|per_h)$"
)


def file_name(field: str) -> str:
    """Return the name in a file of the model's *field*: no unit, dashes for underscores.

    >>> file_name("from_length_mm"), file_name("from_"), file_name("count")
    ('from-length', 'from', 'count')
    """
    return _UNIT_SUFFIX.sub("", field).rstrip("_").replace("_", "-")


class Record(BaseModel):
    """A frozen model read from a file; unknown fields are errors."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=file_name, arbitrary_types_allowed=True, defer_build=True
    )


R = TypeVar("R", bound=BaseModel)


def validate(
    model: type[R], data: object, *, lengths: str | None = None, more: Mapping[str, Any] | None = None
) -> tuple[R | None, list[Finding]]:
    """Return the model that *data* makes, or None, and every finding.

    Parameters
    ----------
    model
        The class to make
    data
        Plain data from a Document
    lengths
        The unit of a bare length
    more
        Further context for the model's validators
    """
    if not isinstance(data, dict):
        known = ", ".join(_field_names(model))
        return None, [
            Finding((), f"{shown(data)} stands where a group of fields belongs", f"expected fields such as {known}")
        ]
    try:
        return model.model_validate(data, context={"lengths": lengths, **(more or {})}), []
    except ValidationError as error:
        return None, findings_of(error, model)


def _field_names(model: type[BaseModel]) -> list[str]:
    return [info.alias or name for name, info in model.model_fields.items()]


def findings_of(error: ValidationError, model: type[BaseModel]) -> list[Finding]:
    """Return pydantic's errors in our words."""
    details = error.errors(include_url=False)
    within = {detail["loc"][:length] for detail in details for length in range(len(detail["loc"]))}
    # A list that lost its only member to an error is not also too short.
    details = [detail for detail in details if not (detail["type"] == "too_short" and detail["loc"] in within)]
    findings = list(dict.fromkeys(_finding(detail, model) for detail in details))
    # A misspelt name is one problem, not an unknown field and a missing one.
    meant = {(*finding.path[:-1], finding.meant) for finding in findings if finding.meant is not None}
    return [finding for finding in findings if not (finding.path in meant and finding.kind == "missing")]


def _finding(detail: ErrorDetails, model: type[BaseModel]) -> Finding:
    path: Where = tuple(step for step in detail["loc"] if step != "[key]")
    context = detail.get("ctx", {})
    kind = detail["type"]
    if kind == "finplan":
        inner = tuple(context.get("path", ()))
        return Finding(
            (*path, *inner), str(context["wrong"]), str(context["expected"]), at_key=bool(context.get("at_key"))
        )
    if kind == "missing":
        name = path[-1]
        return Finding(path, f"field {shown(name)} is missing", _what_belongs(model, path), kind="missing")
    if kind == "extra_forbidden":
        owner = _owner(model, path)
        known = _field_names(owner) if owner else []
        meant = likely(str(path[-1]), known)
        return Finding(
            path,
            f"field {shown(path[-1])} is unknown",
            hint(meant, known),
            at_key=True,
            kind="unknown",
            meant=meant[0] if meant else None,
        )
    given = shown(detail["input"])
    if kind == "literal_error":
        options = str(context.get("expected", "")).replace("'", "").replace(" or ", ", ").split(", ")
        known_words = f"expected one of {', '.join(options)}"
        meant = likely(detail["input"], options) if isinstance(detail["input"], str) else ()
        return Finding(path, f"{given} is not known here", hint(meant, options) if meant else known_words)
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return Finding(path, f"{given} stands where a group of fields belongs", "expected 'name: value' lines")
    if kind in ("list_type", "tuple_type"):
        return Finding(path, f"{given} stands where a list belongs", "expected a list: [first, second]")
    if kind == "too_short":
        return Finding(path, "too little is listed", f"expected {context['min_length']} at the least")
    if kind == "too_long":
        return Finding(path, "too much is listed", f"expected {context['max_length']} at the most")
    return Finding(path, f"{given} does not fit: {detail['msg'].lower()}", "see the description of this field")


def _owner(model: type[BaseModel], path: Where) -> type[BaseModel] | None:
    """Return the model whose field the last step of *path* is."""
    owner: Any = model
    named = False
    for step in path[:-1]:
        if isinstance(step, int) or named:
            named = False  # a place in a list, or a name that the maker chose
            continue
        fields = getattr(owner, "model_fields", None)
        if fields is None:
            return None
        annotation = next((info.annotation for name, info in fields.items() if (info.alias or name) == step), None)
        named = get_origin(annotation) is dict
        owner = _model_in(annotation)
        if owner is None:
            return None
    return owner if isinstance(owner, type) and issubclass(owner, BaseModel) else None


def _model_in(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        model = _model_in(argument)
        if model is not None:
            return model
    return None


def _what_belongs(model: type[BaseModel], path: Where) -> str:
    owner = _owner(model, path)
    if owner is not None:
        for name, info in owner.model_fields.items():
            if (info.alias or name) == path[-1] and info.description:
                return f"expected {info.description}"
    return "it must be given"
