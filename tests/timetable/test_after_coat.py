"""What comes on a coat and when, by itself; that it is said beside every wet coat is tested with the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from finplan.moments import show_moment
from finplan.telling import AfterCoat, after_coat_words, next_by_words
from finplan.telling.after_coat import Then, dried_words
from tests.sheet.left_alone import sent_too_early

NOON = datetime(2027, 3, 2, 12)
MOMENTS = st.integers(0, 400).map(lambda steps: NOON + timedelta(minutes=5 * steps))


def coat(comes: str = "coat", **given: object) -> AfterCoat:
    return AfterCoat(**{"comes": comes, "opens": NOON, "closes": None, **given})  # type: ignore[arg-type]


def test_what_is_not_known_is_not_said() -> None:
    assert after_coat_words([coat(opens=None)]) == ""
    assert after_coat_words([coat("rub-out", opens=None, rubbing="rub out")]) == "Leave it alone until it has cured."


def test_words_for_everything_that_may_come() -> None:
    """The dates by the calendar: 2 March 2027 is a Tuesday."""
    later = NOON + timedelta(hours=30)
    passed = coat(closes=later, abraded=True, abrade_with="P320")
    told = {
        "passed": after_coat_words([passed]),
        "passed by one of two": after_coat_words([passed, coat(closes=later, abrade_with="P320")]),
        "coat": after_coat_words([coat(closes=later, abrade_with="P320")]),
        "abrading": after_coat_words([coat("abrading")]),
        "nothing": after_coat_words([coat("nothing")]),
        "rub-out": after_coat_words([coat("rub-out", rubbing="rub out P600")]),
        "other-side": after_coat_words([coat("other-side")]),
    }
    assert told == {
        "passed": "Next coat not before Tue 2 Mar 12:00; planned after Wed 3 Mar 18:00, when this is too hard, "
        "so abrade with P320 first.",
        "passed by one of two": "Next coat not before Tue 2 Mar 12:00, not after Wed 3 Mar 18:00; "
        "after that abrade with P320 first.",
        "coat": "Next coat not before Tue 2 Mar 12:00, not after Wed 3 Mar 18:00; after that abrade with P320 first.",
        "abrading": "Next coat not before Tue 2 Mar 12:00.",
        "nothing": "Last coat. Leave it alone until Tue 2 Mar 12:00.",
        "rub-out": "Rub out P600 not before Tue 2 Mar 12:00, when it has cured.",
        "other-side": "Turn it over when it is fit to handle, not before Tue 2 Mar 12:00; then the other side.",
    }


def test_a_limit_that_is_passed_is_told_in_the_words_of_every_abrading() -> None:
    later = NOON + timedelta(hours=30)
    passed, too_hard = coat(closes=later, abraded=True), coat(closes=NOON - timedelta(hours=1), abraded=True)
    assert {next_by_words([one]) for one in (passed, too_hard, coat("abrading", abraded=True))} == {"abraded first"}
    assert next_by_words([passed, coat(closes=later)]) == next_by_words([coat(closes=later)]) == "Wed 3 Mar 18:00"
    assert (next_by_words([coat()]), next_by_words([coat("nothing")])) == ("no limit", "")


@given(st.lists(st.tuples(MOMENTS, MOMENTS), min_size=1, max_size=5))
def test_what_is_told_of_several_holds_for_each(windows: Sequence[tuple[datetime, datetime]]) -> None:
    """Each is taken in its turn: of what may go on from different times the first and the last are told."""
    first_open, last_open = (chosen(opens for opens, _ in windows) for chosen in (min, max))
    first_close = min(closes for _, closes in windows)
    told = after_coat_words([coat(opens=opens, closes=closes) for opens, closes in windows])
    each = f"{show_moment(first_open)} the first, {show_moment(last_open)} the last"
    whole = show_moment(last_open) if first_open == last_open else each
    of_last = after_coat_words([coat(opens=last_open, closes=first_close)])
    assert told == of_last.replace(f"not before {show_moment(last_open)}", f"not before {whole}")


@given(
    st.sampled_from(["coat", "abrading", "rub-out", "other-side", "nothing"]),
    st.lists(MOMENTS, min_size=1, max_size=4),
    MOMENTS,
)
def test_what_comes_next_is_never_told_before_the_first_may_be_touched(
    comes: str, opens: Sequence[datetime], start: datetime
) -> None:
    """What shares a row is taken in turn: the first may go on while the last is still wet."""
    then = Then(max(start, min(opens)), show_moment(max(start, min(opens))), "coat 2 (step 9)")
    told = dried_words([coat(comes, opens=one) for one in opens], then, lambda one: one, lambda one: one)
    assert sent_too_early([told]) == []
    in_turn = then.first < max(opens)
    assert ("one after the other" in told) is in_turn, told
    assert "coat 2 (step 9)" in told
