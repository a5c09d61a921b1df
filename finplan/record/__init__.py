"""The record of a job joined with its plan: plans that are held, what was known for them, what is ticked."""

from finplan.record.asked import Asked
from finplan.record.held import Making, completed, done_now, kept_plan, read_plan, replanned
from finplan.record.known import coaters, learnt_of, with_known
from finplan.record.learnt import ShopLearnt, shop_learnt
from finplan.record.shelf import drawn_by, good_until, lot_of, taken_over
from finplan.record.ticking import Ticking, in_ml, ticking
from finplan.record.typed import TypedError, Used, air_of, at_of, minutes_of, steps_of, used_of

__all__ = [
    "Asked",
    "Making",
    "ShopLearnt",
    "Ticking",
    "TypedError",
    "Used",
    "air_of",
    "at_of",
    "coaters",
    "completed",
    "done_now",
    "drawn_by",
    "good_until",
    "in_ml",
    "kept_plan",
    "learnt_of",
    "lot_of",
    "minutes_of",
    "read_plan",
    "replanned",
    "shop_learnt",
    "steps_of",
    "taken_over",
    "ticking",
    "used_of",
    "with_known",
]
