"""The shop's own words, printed on its sheets as they stand."""

from pydantic import Field

from finplan.reading import Record, Sentence

MAX_NOTES = 10


class Notes(Record):
    """What a shop wants said on every sheet, by where it is printed."""

    first_page: tuple[Sentence, ...] = Field((), max_length=MAX_NOTES)
    """For who opens the sheet: where the key hangs, whom to call."""
    every_day: tuple[Sentence, ...] = Field((), max_length=MAX_NOTES)
    """To tick at the end of every day of work."""
    care_card: tuple[Sentence, ...] = Field((), max_length=MAX_NOTES)
    """For the customer: where the shop is, how to reach it."""
