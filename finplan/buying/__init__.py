"""What is bought by when: the day to order each thing, and the fewest trips in which all of it is bought."""

from finplan.buying.days import comes_on, order_by, there_by
from finplan.buying.orders import BuyOrder, Trip, trips_of
from finplan.buying.trips import fewest_trips

__all__ = ["BuyOrder", "Trip", "comes_on", "fewest_trips", "order_by", "there_by", "trips_of"]
