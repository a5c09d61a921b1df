"""How commands are listed, helped with and found: whole sentences, an example each, and a word on what is near."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import typer
from typer.core import TyperGroup

from finplan.cli.examples import EXAMPLES
from finplan.cli.on_demand import OnDemand

_PIECE = (".yaml", ".yml")


class Commands(TyperGroup):
    """A group of commands with manners."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Return the names of the commands, and make none."""
        return list(self.commands)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return a command, its example behind its options."""
        command = super().get_command(ctx, cmd_name)
        example = EXAMPLES.get(" ".join([*_within(ctx), cmd_name]))
        if command is not None and example is not None:
            command.epilog = f"\b\nExample: {example}"
        return command

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """List the commands, what each does as a whole sentence."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, _first_sentence(self._summary(name))) for name in self.list_commands(ctx)])

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Return the command that is meant; where a file is named instead, say what may be done with it."""
        name = args[0]
        if self.get_command(ctx, name) is None and Path(name).suffix.lower() in _PIECE and not _within(ctx):
            ctx.fail(f"'{name[:60]}' is no command; to look at the piece in it: finplan check {name[:60]}")
        return super().resolve_command(ctx, args)

    def _summary(self, name: str) -> str:
        commands: Any = self.commands
        return commands.summary(name) if isinstance(commands, OnDemand) else commands[name].help or ""


def _within(ctx: Any) -> list[str]:
    """Return the names of the groups that a context lies in, without that of the program."""
    names: list[str] = []
    while ctx.parent is not None:
        names.insert(0, ctx.info_name or "")
        ctx = ctx.parent
    return names


def _first_sentence(text: str) -> str:
    return " ".join(text.split("\n\n")[0].split())


def help_text(ctx: typer.Context, words: list[str]) -> str:
    """Return the help of a command that is named by its words, or of the program.

    Raises
    ------
    UsageError
        There is no such command; it names the nearest.
    """
    here: Any = ctx.find_root()
    for word in words:
        group = here.command
        if not isinstance(group, Commands):
            here.fail(f"'{here.info_name}' has no commands of its own: finplan help {' '.join(words[:-1])}")
        name, command, _ = group.resolve_command(here, [word])
        here = command.context_class(command, info_name=name, parent=here)
    return str(here.get_help())


def names_of_records(incomplete: str) -> list[str]:
    """Return the names of all records of the catalogue that begin so, for a shell to complete."""
    from finplan.catalogue import bundled_catalogue

    names = {name for records in bundled_catalogue().kinds().values() for name in records}
    return sorted(name for name in names if name.startswith(incomplete))
