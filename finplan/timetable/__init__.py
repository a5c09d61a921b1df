"""The timetable: who does what when, how late it may start, and what clashes."""

from finplan.timetable.answer import Draft, drafted, keeps_dates
from finplan.timetable.before import rows_before
from finplan.timetable.calendar import hours_between, shift_day, working_hours_between
from finplan.timetable.dust import room_of, settling_h
from finplan.timetable.following import Comes, following, later_steps
from finplan.timetable.found import NotFoundYetError
from finplan.timetable.help.change import Change, Way
from finplan.timetable.help.hands import longer_day
from finplan.timetable.help.heat import warmer_night
from finplan.timetable.job import Job, PieceWork, ReadyFor, delivery_time
from finplan.timetable.keep import Kept, kept_rest
from finplan.timetable.least_late import PlannerStage, Progress
from finplan.timetable.lost_day import with_lost_day
from finplan.timetable.note import (
    AloneWithOldPaint,
    DriesOn,
    DryFrom,
    DustSettles,
    Interrupted,
    LearntTime,
    NoSprayRoom,
    Note,
    NotTaken,
    OwnTimesUsed,
    RackShort,
    TooHard,
)
from finplan.timetable.numbers import numbered
from finplan.timetable.operation import STEP_MIN, After, Deed, Operation, all_operations, clean_ups
from finplan.timetable.operations import operations
from finplan.timetable.owed import owed_clean_ups
from finplan.timetable.rack import rack_needs
from finplan.timetable.recheck import broken_by
from finplan.timetable.remedy import (
    BoothGiven,
    ByHand,
    FewerCoats,
    LaterDates,
    MoreHands,
    NeverColder,
    OtherSystem,
    Remedy,
    StartNow,
    WarmerNights,
)
from finplan.timetable.requirement import (
    AirObjects,
    AllDone,
    DateKept,
    HoursEnd,
    NobodyDoes,
    NoBooth,
    NoRoomFor,
    Obstacle,
    Requirement,
    SomebodyWorks,
    TimeFound,
)
from finplan.timetable.rows import drying_by_coat, first_stretches, steps_by_row
from finplan.timetable.slips import LostDay, Slips, slips_of
from finplan.timetable.solve import Planner
from finplan.timetable.stages import nominal_hours, stage_time
from finplan.timetable.step_work import coating_hours
from finplan.timetable.timetable import (
    Buffer,
    ChangeKind,
    Clash,
    PieceTimes,
    Status,
    Timetable,
    TimetableStep,
    WouldFit,
)
from finplan.timetable.wet import WetCoat, dry_from, wet_coats

__all__ = [
    "STEP_MIN",
    "After",
    "AirObjects",
    "AllDone",
    "AloneWithOldPaint",
    "BoothGiven",
    "Buffer",
    "ByHand",
    "Change",
    "ChangeKind",
    "Clash",
    "Comes",
    "DateKept",
    "Deed",
    "Draft",
    "DriesOn",
    "DryFrom",
    "DustSettles",
    "FewerCoats",
    "HoursEnd",
    "Interrupted",
    "Job",
    "Kept",
    "LaterDates",
    "LearntTime",
    "LostDay",
    "MoreHands",
    "NeverColder",
    "NoBooth",
    "NoRoomFor",
    "NoSprayRoom",
    "NobodyDoes",
    "NotFoundYetError",
    "NotTaken",
    "Note",
    "Obstacle",
    "Operation",
    "OtherSystem",
    "OwnTimesUsed",
    "PieceTimes",
    "PieceWork",
    "Planner",
    "PlannerStage",
    "Progress",
    "RackShort",
    "ReadyFor",
    "Remedy",
    "Requirement",
    "Slips",
    "SomebodyWorks",
    "StartNow",
    "Status",
    "TimeFound",
    "Timetable",
    "TimetableStep",
    "TooHard",
    "WarmerNights",
    "Way",
    "WetCoat",
    "WouldFit",
    "all_operations",
    "broken_by",
    "clean_ups",
    "coating_hours",
    "delivery_time",
    "drafted",
    "dry_from",
    "drying_by_coat",
    "first_stretches",
    "following",
    "hours_between",
    "keeps_dates",
    "kept_rest",
    "later_steps",
    "longer_day",
    "nominal_hours",
    "numbered",
    "operations",
    "owed_clean_ups",
    "rack_needs",
    "room_of",
    "rows_before",
    "settling_h",
    "shift_day",
    "slips_of",
    "stage_time",
    "steps_by_row",
    "warmer_night",
    "wet_coats",
    "with_lost_day",
    "working_hours_between",
]
