"""How dry wood has to be when a finish goes on it."""

from typing import Self

from pydantic import model_validator

from finplan.catalogue.record import Sourced
from finplan.reading import Percentage, PercentageSpan, fail


class WoodMoisture(Sourced):
    """How dry wood has to be when a finish goes on it: mass of water to mass of dry wood."""

    service_pct: PercentageSpan
    """At what moisture furniture settles in heated rooms."""
    most_pct: Percentage
    """On damper wood the finish does not go at all."""

    @model_validator(mode="after")
    def _most_is_above_service(self) -> Self:
        if self.most_pct < self.service_pct.high:
            wrong = f"{self.most_pct:g} % is less than the {self.service_pct.high:g} % of service"
            fail(wrong, "expected at least that", ("most",))
        return self
