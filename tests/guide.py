"""The pages of the guide: what the commands in them print, and the list of all options.

Every ``console`` block is run in the order of its page, in a folder that is empty but for the demo, as on a day in
January 2027; every ``diff`` block is an edit of the file that it names. Run as a program, it writes what is printed
into the pages, each command a program of its own; tests compare, and run most of them in their own process.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import finplan
from tests.readme import README, prepare, printed

GUIDE = Path(finplan.__file__).parent / "guide"
COMMANDS = GUIDE / "commands.md"
MADE = "<!-- from here on made from the program: python -m tests.guide -->"
_BLOCK = re.compile(
    r"```console\n\$ (?P<command>finplan [^\n]+)\n(?P<output>.*?)```\n|```diff\n--- (?P<file>\S+)\n(?P<edit>.*?)```\n",
    re.DOTALL,
)


def pages() -> list[Path]:
    """Return the pages in which something is run or edited."""
    return [README, *(file for file in sorted(GUIDE.glob("*.md")) if _BLOCK.search(file.read_text(encoding="utf-8")))]


Run = Callable[[str, Path], str]
"""Runs a command in a folder, and returns what it prints."""


def renewed(text: str, run: Run) -> str:
    """Return a page with what its commands print today."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        prepare(folder)

        def done(found: re.Match[str]) -> str:
            if found["file"]:
                edit(folder / found["file"], found["edit"])
                return found[0]
            return f"```console\n$ {found['command']}\n{run(found['command'], folder)}```\n"

        return _BLOCK.sub(done, text)


def edit(file: Path, lines: str) -> None:
    """Change a file as a block says: what begins with a minus is replaced by what begins with a plus behind it."""
    text = file.read_text(encoding="utf-8")
    for old, new in _changes(lines):
        assert text.count(old) >= 1, f"{file.name} has no {old!r}"
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")


def _changes(lines: str) -> Iterator[tuple[str, str]]:
    for block in re.findall(r"(?:^-[^\n]*\n)(?:^\+[^\n]*\n)+", lines, re.MULTILINE):
        first, *rest = block.splitlines()
        yield first[1:], "\n".join(line[1:] for line in rest)


def options(run: Run) -> str:
    """Return every command with its help, as it stands in the page of the commands."""
    from finplan.cli.app import program

    found = []
    for name in program().commands:
        with tempfile.TemporaryDirectory() as folder:
            found.append(f"### `finplan {name}`\n\n```text\n{run(f'finplan {name} --help', Path(folder))}```\n")
    return "\n".join(found)


def commands_page(text: str, run: Run) -> str:
    """Return the page of the commands with the list of all options as it is today."""
    return f"{text.partition(MADE)[0].rstrip()}\n\n{MADE}\n\n## Every option\n\n{options(run)}"


if __name__ == "__main__":
    for page in pages():
        page.write_text(renewed(page.read_text(encoding="utf-8"), printed), encoding="utf-8")
    COMMANDS.write_text(commands_page(COMMANDS.read_text(encoding="utf-8"), printed), encoding="utf-8")
