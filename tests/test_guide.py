"""The guide: what stands in it is what is printed, its links lead somewhere, and it is read in the terminal."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.conftest import Cli
from tests.guide import COMMANDS, GUIDE, commands_page, pages, renewed
from tests.readme import printed, printed_here

ON_THEIR_OWN = ("README", "refinish")
"""Pages whose commands are each a program of its own; the others run in this one, which has loaded and planned."""
PAGES = sorted(GUIDE.glob("*.md"))
HOW_TO = {"refinish", "spraying", "several-pieces", "cold-shop", "lost-day", "mending"}


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.stem)
def test_what_is_printed_stands_there(page: Path) -> None:
    """If it does not: ``python -m tests.guide``."""
    text = page.read_text(encoding="utf-8")
    assert renewed(text, printed if page.stem in ON_THEIR_OWN else printed_here) == text


def test_every_option_stands_there() -> None:
    """If it does not: ``python -m tests.guide``."""
    text = COMMANDS.read_text(encoding="utf-8")
    assert commands_page(text, printed_here) == text


def test_there_are_a_tutorial_in_both_units_how_to_pages_and_methods() -> None:
    assert {"tutorial", "tutorial-us", "methods", "fields", "commands"} | HOW_TO <= {page.stem for page in PAGES}
    assert len(pages()) >= 9
    for page in pages():
        text = page.read_text(encoding="utf-8")
        assert "Traceback" not in text
        assert "mistake of its own" not in text


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_link_leads_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\((?!http)([^)#]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), target


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_a_page_is_read_in_the_terminal(page: Path, cli: Cli) -> None:
    ended = cli("guide", page.stem)
    assert (ended.status, ended.err) == (0, "")
    assert ended.out.splitlines()[1].startswith("===")
    assert "](" not in re.sub(r"^    .*$", "", ended.out, flags=re.MULTILINE)


def test_the_pages_are_listed_and_a_misspelt_one_is_told(cli: Cli) -> None:
    listed = cli("guide").out
    for page in PAGES:
        assert f"  {page.stem} " in listed
    assert "did you mean 'tutorial'?" in cli("guide", "tutorail").err
