"""What is asked of the air of a shop, whatever the finish."""

from pydantic import Field

from finplan.catalogue.ranges import RoomM3Range
from finplan.catalogue.record import Sourced
from finplan.reading import DurationH


class ShopAir(Sourced):
    """What is asked of the air round wood and wet coats."""

    above_dew_point_k: float = Field(gt=0, le=10)
    """How much warmer than its dew point the air has to be where a coat is wet, in K."""
    sustained_h: DurationH
    """A coat dries through by the slowest pace of so long, for the piece has to follow the air first."""
    most_air_changes: float = Field(gt=0, le=1000)
    """How often an hour a fan may be asked to change the air of a whole room; none that a shop has does more."""
    rooms_m3: RoomM3Range
    """Of which rooms it is told what they would take, where nobody has measured: a small, a usual and a large one."""
    settles_in_days: int = Field(ge=1, le=365)
    """Wood settles at the moisture of the mean air of so many days."""
