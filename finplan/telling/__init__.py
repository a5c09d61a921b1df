"""Facts and words about a plan, each reckoned and worded once: paper, terminal, calendar and data only lay them out."""

from finplan.telling.after_coat import PUTS_ON, AfterCoat, after_coat_words, after_coats, next_by_words
from finplan.telling.agenda import AgendaLine, agenda_of
from finplan.telling.air_remedies import air_remedy_words
from finplan.telling.air_table import AirCells, air_cells, has_fan
from finplan.telling.approval_words import ApprovalTold, approvals_told, sample_due_words
from finplan.telling.asked_price import PriceError, read_price, refuse_other_currency
from finplan.telling.candidates import system_risks, why_not_words
from finplan.telling.care_words import hard_words, stands_words, usable_words, where_words
from finplan.telling.cautions import because_words, brought_by, caution_source, cautions_by_moment, source_title
from finplan.telling.chance import chance_words, latest_start_words, of_twenty, share_words
from finplan.telling.coat_air import CoatAir, coat_air, cold_words
from finplan.telling.cold import cold_by_words
from finplan.telling.conditions import condition_words
from finplan.telling.contact import card_contact, contact_words, is_meant
from finplan.telling.dates import NO_DELIVERY, READY, cured_words, hard_from, latest_start, ready_at
from finplan.telling.delivery import at_delivery_words, put_off_lines
from finplan.telling.dry_from import dry_from_words
from finplan.telling.drying_times import label_times_words, next_coat_here_words
from finplan.telling.dust import dust_words, extractor_words, loose_dust_words
from finplan.telling.duties import duty_words, leaves_last_words
from finplan.telling.extra_words import extra_row_lines, stretch_words
from finplan.telling.fault_words import (
    answer_lines,
    cannot_words,
    coat_words,
    excluded_words,
    fault_head,
    found_words,
    look_words,
    repair_step_words,
    unlike_words,
)
from finplan.telling.helping import Helping, helps
from finplan.telling.job_faults import FaultDone, JobFault, job_faults
from finplan.telling.learnt import (
    NOTHING_LEARNT,
    TIMES_RECKONED,
    aside_words,
    noted_words,
    pace_words,
    rate_words,
    span_words,
)
from finplan.telling.measuring import to_measure_words
from finplan.telling.mixing import Mixing
from finplan.telling.money import show_estimate, show_money, show_rate
from finplan.telling.moved import Moved, lost_days_words, moved_words
from finplan.telling.names import Names, mark_of, marked_name, one_name, treatment_name
from finplan.telling.next_work import NextWork
from finplan.telling.not_to_plan import not_to_plan
from finplan.telling.notes import notes_told
from finplan.telling.offer import WORK_DONE, offer_words, sample_words, whole_words
from finplan.telling.ordering import OrderTold, TripTold, marks_words, ordering_told, trips_told, trips_words
from finplan.telling.other_work import before_coating_lines, clean_up_label, glue_up_lines, put_together_lines
from finplan.telling.packs import (
    keeps_words,
    left_over_words,
    not_counted,
    pack_words,
    piece_words,
    price_words,
    short_title,
    total_words,
)
from finplan.telling.pooled_air import AirPool, pooled_air
from finplan.telling.quote import QuoteTold, lacking_prices, quote_told, under_cost, without_words
from finplan.telling.record_notes import held_note_words, tick_note_words
from finplan.telling.remedies import progress_words, remedy_words
from finplan.telling.repair_words import cost_words, repair_head
from finplan.telling.requirements import clashes_words, requirement_words
from finplan.telling.review import ReviewTold, review_told
from finplan.telling.row_air import air_words, only_dries_there, row_air_words, too_little_air
from finplan.telling.row_care import CareWords, air_to_sand_in, before_all, row_care_words
from finplan.telling.runs import Run, runs_of_coats
from finplan.telling.sanding_rules import GritRule, sanding_rules, stop_reasons
from finplan.telling.sanding_words import order_sentence, order_words, part_work_words, sequence_words, usual_grits
from finplan.telling.session_air import (
    aired_words,
    cartridge_words,
    gives_words,
    reckoned_words,
    session_coats,
    session_words,
    too_early_words,
    vapour_words,
)
from finplan.telling.sets import OfItem, each_words, for_each, in_one_go, names_together, numbers_words, set_name
from finplan.telling.sides import asked_in_words, heavy_lines, lifting_lines
from finplan.telling.slips import last_start, latest_begin_words, lost_day_words
from finplan.telling.spare import buffer_rule_words, buffer_words, kept_words, late_by_words, wanted_words
from finplan.telling.standing import LeftAlone, left_alone
from finplan.telling.step_number import step_number, step_numbers
from finplan.telling.step_words import (
    again_line,
    before_coat_lines,
    carried_lines,
    common_lines,
    grit_lines,
    key_of,
    method_words,
    mixed_anew,
    mixed_together,
    own_lines,
    own_lines_again,
    pot_life_words,
    way_words,
)
from finplan.telling.sureness import cause_words, surer_together, surer_words, weighed_words
from finplan.telling.tables import ToldTable
from finplan.telling.treatments import done_words, risk_words, stops_words, system_about, system_title, treatment_words
from finplan.telling.vapour import BASIS, PURPOSES, aired_until, sprayed_without_booth, verdict_words
from finplan.telling.voc import voc_held, voc_limit, voc_words
from finplan.telling.wet_edge_words import wet_edge_lines, wet_edge_words
from finplan.telling.would_fit import clash_words, gain_words, in_time_with, misfit_words, ready_words, would_fit_words

__all__ = [
    "BASIS",
    "NOTHING_LEARNT",
    "NO_DELIVERY",
    "PURPOSES",
    "PUTS_ON",
    "READY",
    "TIMES_RECKONED",
    "WORK_DONE",
    "AfterCoat",
    "AgendaLine",
    "AirCells",
    "AirPool",
    "ApprovalTold",
    "CareWords",
    "CoatAir",
    "FaultDone",
    "GritRule",
    "Helping",
    "JobFault",
    "LeftAlone",
    "Mixing",
    "Moved",
    "Names",
    "NextWork",
    "OfItem",
    "OrderTold",
    "PriceError",
    "QuoteTold",
    "ReviewTold",
    "Run",
    "ToldTable",
    "TripTold",
    "after_coat_words",
    "after_coats",
    "again_line",
    "agenda_of",
    "air_cells",
    "air_remedy_words",
    "air_to_sand_in",
    "air_words",
    "aired_until",
    "aired_words",
    "answer_lines",
    "approvals_told",
    "aside_words",
    "asked_in_words",
    "at_delivery_words",
    "because_words",
    "before_all",
    "before_coat_lines",
    "before_coating_lines",
    "brought_by",
    "buffer_rule_words",
    "buffer_words",
    "cannot_words",
    "card_contact",
    "carried_lines",
    "cartridge_words",
    "cause_words",
    "caution_source",
    "cautions_by_moment",
    "chance_words",
    "clash_words",
    "clashes_words",
    "clean_up_label",
    "coat_air",
    "coat_words",
    "cold_by_words",
    "cold_words",
    "common_lines",
    "condition_words",
    "contact_words",
    "cost_words",
    "cured_words",
    "done_words",
    "dry_from_words",
    "dust_words",
    "duty_words",
    "each_words",
    "excluded_words",
    "extra_row_lines",
    "extractor_words",
    "fault_head",
    "for_each",
    "found_words",
    "gain_words",
    "gives_words",
    "glue_up_lines",
    "grit_lines",
    "hard_from",
    "hard_words",
    "has_fan",
    "heavy_lines",
    "held_note_words",
    "helps",
    "in_one_go",
    "in_time_with",
    "is_meant",
    "job_faults",
    "keeps_words",
    "kept_words",
    "key_of",
    "label_times_words",
    "lacking_prices",
    "last_start",
    "late_by_words",
    "latest_begin_words",
    "latest_start",
    "latest_start_words",
    "leaves_last_words",
    "left_alone",
    "left_over_words",
    "lifting_lines",
    "look_words",
    "loose_dust_words",
    "lost_day_words",
    "lost_days_words",
    "mark_of",
    "marked_name",
    "marks_words",
    "method_words",
    "misfit_words",
    "mixed_anew",
    "mixed_together",
    "moved_words",
    "names_together",
    "next_by_words",
    "next_coat_here_words",
    "not_counted",
    "not_to_plan",
    "noted_words",
    "notes_told",
    "numbers_words",
    "of_twenty",
    "offer_words",
    "one_name",
    "only_dries_there",
    "order_sentence",
    "order_words",
    "ordering_told",
    "own_lines",
    "own_lines_again",
    "pace_words",
    "pack_words",
    "part_work_words",
    "piece_words",
    "pooled_air",
    "pot_life_words",
    "price_words",
    "progress_words",
    "put_off_lines",
    "put_together_lines",
    "quote_told",
    "rate_words",
    "read_price",
    "ready_at",
    "ready_words",
    "reckoned_words",
    "refuse_other_currency",
    "remedy_words",
    "repair_head",
    "repair_step_words",
    "requirement_words",
    "review_told",
    "risk_words",
    "row_air_words",
    "row_care_words",
    "runs_of_coats",
    "sample_due_words",
    "sample_words",
    "sanding_rules",
    "sequence_words",
    "session_coats",
    "session_words",
    "set_name",
    "share_words",
    "short_title",
    "show_estimate",
    "show_money",
    "show_rate",
    "source_title",
    "span_words",
    "sprayed_without_booth",
    "stands_words",
    "step_number",
    "step_numbers",
    "stop_reasons",
    "stops_words",
    "stretch_words",
    "surer_together",
    "surer_words",
    "system_about",
    "system_risks",
    "system_title",
    "tick_note_words",
    "to_measure_words",
    "too_early_words",
    "too_little_air",
    "total_words",
    "treatment_name",
    "treatment_words",
    "trips_told",
    "trips_words",
    "under_cost",
    "unlike_words",
    "usable_words",
    "usual_grits",
    "vapour_words",
    "verdict_words",
    "voc_held",
    "voc_limit",
    "voc_words",
    "wanted_words",
    "way_words",
    "weighed_words",
    "wet_edge_lines",
    "wet_edge_words",
    "where_words",
    "whole_words",
    "why_not_words",
    "without_words",
    "would_fit_words",
]
