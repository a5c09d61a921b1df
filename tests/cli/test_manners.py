"""Help, completion and what is said of a misspelt command: the terminal's manners."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import pytest

from finplan.cli.app import program
from finplan.cli.examples import EXAMPLES
from tests.conftest import Cli


def commands(group: Any, *before: str) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Give every command with its words, groups and what is in them."""
    for name, command in group.commands.items():
        yield (*before, name), command
        yield from commands(command, *before, name) if hasattr(command, "commands") else ()


EVERY = [" ".join(words) for words, _ in commands(program())]


def test_every_command_has_an_example_and_no_other() -> None:
    assert set(EXAMPLES) == set(EVERY)


@pytest.mark.parametrize("name", EVERY)
def test_an_example_is_a_line_that_can_be_typed(name: str) -> None:
    """It begins with its command, and the command takes its words."""
    typed = shlex.split(EXAMPLES[name])
    assert typed[0] == "finplan"
    assert EXAMPLES[name].startswith(f"finplan {name}")
    context, words = program().make_context("finplan", typed[1:]), typed[1:]
    while hasattr(context.command, "commands") and words:
        found, command, words = context.command.resolve_command(context, words)
        context = command.make_context(found, list(words), parent=context)
        words = [*context._protected_args, *context.args] if hasattr(command, "commands") else []


@pytest.mark.parametrize("name", EVERY)
def test_help_shows_the_example_either_way(name: str, cli: Cli) -> None:
    asked, helped = cli(*name.split(), "--help"), cli("help", *name.split())
    assert asked.status == helped.status == 0
    assert f"Example: {EXAMPLES[name]}" in asked.out
    assert asked.out == helped.out


def test_help_of_the_program_lists_every_command_with_a_whole_sentence(cli: Cli) -> None:
    told = cli("help")
    assert told.out == cli("--help").out
    assert "..." not in told.out.partition("Commands:")[2]
    assert "Example: " in told.out


def test_a_group_is_listed_with_what_its_own_help_begins_with(cli: Cli) -> None:
    listed = " ".join(cli("help").out.partition("Commands:")[2].split())
    for name, command in program().commands.items():
        if hasattr(command, "commands"):
            assert f" {name} {command.help}" in listed


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (["chek", "table.yaml"], "Did you mean 'check'"),
        (["timetabel", "table.yaml"], "Did you mean 'timetable'?"),
        (["stock", "recieve", "x"], "Did you mean 'receive'?"),
        (["help", "shet"], "Did you mean 'sheet'"),
        (["help", "check", "more"], "'check' has no commands of its own"),
        (["table.yaml"], "finplan check table.yaml"),
        (["check", "table.yaml", "--shp", "shop.yaml"], "--shop"),
        (["timetable", "table.yaml", "--delivr", "2027-03-19"], "--deliver"),
        (["areas", "table.yaml", "--units", "metrc"], "'metric'"),
    ],
)
def test_what_is_misspelt_is_told_with_what_is_near(typed: list[str], words: str, cli: Cli) -> None:
    ended = cli(*typed)
    assert ended.status == 2
    assert words in ended.err


def completed(*words: str) -> list[str]:
    """Return what a shell is offered for the last word, by the protocol of the library of commands."""
    line = " ".join(("finplan", *words))
    env = {**os.environ, "_FINPLAN_COMPLETE": "complete_bash", "COMP_WORDS": line, "COMP_CWORD": str(len(words))}
    program = "import sys; sys.argv = ['finplan']; from finplan.cli import main; main()"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, env=env, check=False)
    return done.stdout.split()


def test_commands_options_and_names_are_completed() -> None:
    assert completed("tim") == ["timetable"]
    assert completed("stock", "di") == ["discard"]
    assert completed("timetable", "--del") == ["--deliver"]
    assert completed("areas", "table.yaml", "--units", "m") == ["metric"]
    assert "hardwax-oil" in completed("catalogue", "hardw")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish", "powershell"])
def test_the_script_that_completes_can_be_shown(shell: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    """In whatever shell the program was started; tests are started in none that can be relied on."""
    monkeypatch.setattr("typer.completion._get_shell_name", lambda: shell)
    shown = cli("--show-completion")
    assert shown.status == 0
    assert "_FINPLAN_COMPLETE" in shown.out
