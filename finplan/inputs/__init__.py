"""What the maker writes: the piece file and the shop file, as validated models."""

from finplan.inputs.climate import Climate, DayAndNight
from finplan.inputs.exhaust import READ_THE_CODE, Booth, Extraction, proper
from finplan.inputs.hours import Shift, Week
from finplan.inputs.labels import LEAST, PAPER_MM, Labels, Place
from finplan.inputs.logger import Reading
from finplan.inputs.piece import (
    Assembly,
    Joint,
    Known,
    LeadTest,
    Piece,
    PieceFile,
    load_piece,
    piece_file_of,
    piece_from,
    read_piece,
)
from finplan.inputs.shop import Paper, Person, Room, Shop, ShopFile, default_shop, load_shop, shop_of

__all__ = [
    "LEAST",
    "PAPER_MM",
    "READ_THE_CODE",
    "Assembly",
    "Booth",
    "Climate",
    "DayAndNight",
    "Extraction",
    "Joint",
    "Known",
    "Labels",
    "LeadTest",
    "Paper",
    "Person",
    "Piece",
    "PieceFile",
    "Place",
    "Reading",
    "Room",
    "Shift",
    "Shop",
    "ShopFile",
    "Week",
    "default_shop",
    "load_piece",
    "load_shop",
    "piece_file_of",
    "piece_from",
    "proper",
    "read_piece",
    "shop_of",
]
