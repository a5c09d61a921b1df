"""A field that is read by a function and by nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic_core import CoreSchema, core_schema


@dataclass(frozen=True, slots=True)
class Reads:
    """Stands beside the type of a field, and says which function reads what is written there.

    As pydantic's ``PlainValidator``, but for reading alone. That one works out for every field how its type is written
    as well, which was a third of making a model, and no record is ever written by its model.
    """

    function: Callable[..., Any]
    """Of the value; refuses by ``fail``."""
    in_context: bool = False
    """Whether it is called with the value's ``ValidationInfo`` too."""

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        """Return how pydantic reads the field."""
        anything = core_schema.any_schema()
        if self.in_context:
            return core_schema.with_info_plain_validator_function(self.function, json_schema_input_schema=anything)
        return core_schema.no_info_plain_validator_function(self.function, json_schema_input_schema=anything)
