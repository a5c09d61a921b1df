"""Commands that are made when one of them is asked for: to make them all takes as long as most of them do."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping
from copy import copy
from typing import Any

import typer
from typer.main import get_command, get_command_name, solve_typer_info_help
from typer.models import CommandInfo, TyperInfo

_Registered = CommandInfo | TyperInfo


class OnDemand(Mapping[str, Any]):
    """The commands of a program by their names, in the order in which they were registered; groups come last."""

    def __init__(self, app: typer.Typer) -> None:
        registered: list[_Registered] = [*app.registered_commands, *app.registered_groups]
        self._registered = {_name(command): command for command in registered}
        self._made: dict[str, Any] = {}

    def summary(self, name: str) -> str:
        """Return what a command is for, without making it."""
        command = self._registered[name]
        if isinstance(command, TyperInfo):  # of a group it stands where the group was begun
            return solve_typer_info_help(command)
        return command.help if isinstance(command.help, str) else inspect.getdoc(command.callback) or ""

    def __getitem__(self, name: str) -> Any:
        """Return a command, made for the first who asks."""
        if name not in self._made:
            self._made[name] = _made(name, self._registered[name])
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        """Give the names."""
        return iter(self._registered)

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._registered)


def group_on_demand(app: typer.Typer) -> Any:
    """Return the group of a program, none of whose commands is made yet."""
    bare = copy(app)
    bare.registered_commands, bare.registered_groups = [], []
    group: Any = get_command(bare)
    group.commands = OnDemand(app)
    return group


def _name(command: _Registered) -> str:
    if isinstance(command.name, str):
        return command.name
    assert command.callback is not None  # noqa: S101 - a command without a name is called as its function
    return get_command_name(command.callback.__name__)


def _made(name: str, command: _Registered) -> Any:
    if isinstance(command, TyperInfo):
        assert command.typer_instance is not None  # noqa: S101 - it was registered
        alone = command.typer_instance
    else:
        alone = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False, add_completion=False)
        alone.registered_commands = [command]
    made: Any = get_command(alone)
    made.name = name
    return made
