"""What the maker writes: the piece file and the shop file, as validated models."""

from finplan.inputs.asked_step import AskedStep
from finplan.inputs.asked_steps import STRIPS
from finplan.inputs.climate import MAX_LOG_BYTES, Climate, DayAir, DayAndNight, NightAir
from finplan.inputs.concerns import CONCERNS, concerns_of, not_accepted
from finplan.inputs.dated import dated_in_piece, dated_in_shop, holidays_by_zone
from finplan.inputs.doubtful_build import doubtful_build
from finplan.inputs.exhaust import Booth, Extraction, takes_what_burns
from finplan.inputs.hours import Shift, Week, days_through, worked_min, written_shifts
from finplan.inputs.labels import LEAST, PAPER_MM, LabelPlace, Labels
from finplan.inputs.logger import Reading, read_log
from finplan.inputs.piece import OF_PIECE, Assembly, Head, Joint, LeadTest, Piece, item_in_one, item_in_set
from finplan.inputs.piece_file import Known, PieceFile, piece_file_of, piece_from
from finplan.inputs.plausible import unlikely_sizes
from finplan.inputs.plausible_sizes import Bounds, Sizes, plausible_sizes
from finplan.inputs.prices import (
    HourRates,
    PackPrice,
    currency_of,
    mixed_currencies,
    money_in,
    unknown_suppliers,
    with_prices,
)
from finplan.inputs.sample import SampleBoard
from finplan.inputs.shelf import ShelfItem, shelf_findings
from finplan.inputs.shop import DEFAULT_SUPPLIER, Paper, Person, Rack, Room, RoomUse, Shop, Skill
from finplan.inputs.shop_file import ShopFile, default_shop, default_shop_fields, shop_of

__all__ = [
    "CONCERNS",
    "DEFAULT_SUPPLIER",
    "LEAST",
    "MAX_LOG_BYTES",
    "OF_PIECE",
    "PAPER_MM",
    "STRIPS",
    "AskedStep",
    "Assembly",
    "Booth",
    "Bounds",
    "Climate",
    "DayAir",
    "DayAndNight",
    "Extraction",
    "Head",
    "HourRates",
    "Joint",
    "Known",
    "LabelPlace",
    "Labels",
    "LeadTest",
    "NightAir",
    "PackPrice",
    "Paper",
    "Person",
    "Piece",
    "PieceFile",
    "Rack",
    "Reading",
    "Room",
    "RoomUse",
    "SampleBoard",
    "ShelfItem",
    "Shift",
    "Shop",
    "ShopFile",
    "Sizes",
    "Skill",
    "Week",
    "concerns_of",
    "currency_of",
    "dated_in_piece",
    "dated_in_shop",
    "days_through",
    "default_shop",
    "default_shop_fields",
    "doubtful_build",
    "holidays_by_zone",
    "item_in_one",
    "item_in_set",
    "mixed_currencies",
    "money_in",
    "not_accepted",
    "piece_file_of",
    "piece_from",
    "plausible_sizes",
    "read_log",
    "shelf_findings",
    "shop_of",
    "takes_what_burns",
    "unknown_suppliers",
    "unlikely_sizes",
    "with_prices",
    "worked_min",
    "written_shifts",
]
