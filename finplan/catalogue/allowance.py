"""What is used beside the piece itself."""

from finplan.catalogue.ranges import AreaRange
from finplan.catalogue.record import Sourced


class Allowance(Sourced):
    """A surface beside the piece that gets every coat of a system as well."""

    area_m2: AreaRange
    """How much of it, once for each system of an order; what stays in its small tool is in it."""
