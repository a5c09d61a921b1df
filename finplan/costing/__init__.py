"""What a job costs: hours by kind, what is used of materials and what is bought, to the cent."""

from finplan.costing.cost import Cost
from finplan.costing.goods import Goods, goods_of
from finplan.costing.hours import (
    CHARGED_WORK,
    ChargedWork,
    KindHours,
    PieceHours,
    RatedWork,
    charged_work_of,
    hours_of,
    machine_hours,
)
from finplan.costing.quote import Quote, quote_of
from finplan.costing.waits import soaking_h, waiting_h

__all__ = [
    "CHARGED_WORK",
    "ChargedWork",
    "Cost",
    "Goods",
    "KindHours",
    "PieceHours",
    "Quote",
    "RatedWork",
    "charged_work_of",
    "goods_of",
    "hours_of",
    "machine_hours",
    "quote_of",
    "soaking_h",
    "waiting_h",
]
