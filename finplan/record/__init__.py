"""The record of a job joined with its plan: plans that are held, what was known for them, what is ticked."""

from finplan.record.aired import Aired, in_air_until, wet_since
from finplan.record.asked import Asked
from finplan.record.film_tested import FilmTested, Tested, films_tested, refuse_result_of_no_test, result_of, tests_of
from finplan.record.finished import completed, done_now, lacking_of
from finplan.record.held import kept_plan, next_by_record, next_plan, plan_by_record
from finplan.record.known import with_known
from finplan.record.learnt import ShopLearnt, shop_learnt
from finplan.record.making import plan_maker
from finplan.record.on_record import with_held_timetable, with_repairs
from finplan.record.progress import steps_done, steps_of_job
from finplan.record.readable import check_readable
from finplan.record.reading import Making, read_plan
from finplan.record.review import JobSpan, Review, review_of
from finplan.record.review_cost import FinishCost
from finplan.record.review_used import UsedCoats
from finplan.record.review_work import KindOfWork
from finplan.record.said import HeldNote, NothingLearnt, TickNote, UnfitAir
from finplan.record.shelf import TAKEN_OVER, drawn_by, good_until, is_taken_over, lot_of, put_draws_right, taken_over
from finplan.record.ticking import Ticking, earlier_of, ticking
from finplan.record.typed import TypedError, Used, air_of, at_of, minutes_of, price_of, steps_of, used_of, words_of
from finplan.record.typed_air import air_logged, air_told

__all__ = [
    "TAKEN_OVER",
    "Aired",
    "Asked",
    "FilmTested",
    "FinishCost",
    "HeldNote",
    "JobSpan",
    "KindOfWork",
    "Making",
    "NothingLearnt",
    "Review",
    "ShopLearnt",
    "Tested",
    "TickNote",
    "Ticking",
    "TypedError",
    "UnfitAir",
    "Used",
    "UsedCoats",
    "air_logged",
    "air_of",
    "air_told",
    "at_of",
    "check_readable",
    "completed",
    "done_now",
    "drawn_by",
    "earlier_of",
    "films_tested",
    "good_until",
    "in_air_until",
    "is_taken_over",
    "kept_plan",
    "lacking_of",
    "lot_of",
    "minutes_of",
    "next_by_record",
    "next_plan",
    "plan_by_record",
    "plan_maker",
    "price_of",
    "put_draws_right",
    "read_plan",
    "refuse_result_of_no_test",
    "result_of",
    "review_of",
    "shop_learnt",
    "steps_done",
    "steps_of",
    "steps_of_job",
    "taken_over",
    "tests_of",
    "ticking",
    "used_of",
    "wet_since",
    "with_held_timetable",
    "with_known",
    "with_repairs",
    "words_of",
]
