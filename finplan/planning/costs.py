"""What pieces of one shop cost together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from finplan.costing import PieceHours, Quote, goods_of, hours_of, machine_hours, quote_of, soaking_h, waiting_h
from finplan.inputs import currency_of, money_in
from finplan.material import ConsumableNeed, MaterialPlan
from finplan.planning.piece import PlannedPiece
from finplan.timetable import Timetable


def quote_for(
    pieces: Sequence[PlannedPiece],
    materials: MaterialPlan,
    timetable: Timetable,
    done: Mapping[str, datetime],
    safety: Sequence[ConsumableNeed] = (),
) -> Quote:
    """Return what pieces cost.

    Parameters
    ----------
    pieces
        All of the order
    materials, timetable
        What they need, and who does what when
    done
        What was done before, which is paid too
    safety
        What is bought for safety
    """
    first = pieces[0].source
    money = [currency for piece in pieces for currency in money_in(None, piece.source.piece.prices)]
    works = [PieceHours(piece.key, piece.operations) for piece in pieces]
    operations = [operation for piece in pieces for operation in piece.operations]
    lasting = {
        name
        for name, consumable in first.catalogue.consumables.items()
        if consumable.life_h is consumable.use_per_coat is None
    }
    return quote_of(
        hours_of(works, timetable, done, first.shop, first.catalogue),
        machine_hours(operations, [piece.sanding for piece in pieces], first.catalogue),
        waiting_h(timetable),
        sum(soaking_h(operations, timetable).values()),
        goods_of(materials, safety, lasting),
        first.shop,
        first.shop.currency or currency_of(money),
    )
