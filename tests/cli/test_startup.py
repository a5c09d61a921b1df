"""What the command line loads before it knows what is asked for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = (
    "holidays",
    "icalendar",
    "jinja2",
    "numpy",
    "ortools",
    "pandas",
    "pint",
    "psychrolib",
    "pydantic",
    "rich",
    "scipy",
    "trimesh",
    "weasyprint",
    "yaml",
)


@pytest.mark.parametrize("option", ["--help", "--version"])
def test_help_loads_no_heavy_library(option: str) -> None:
    program = (
        "import sys\n"
        "sys.argv = ['finplan', sys.argv[1]]\n"
        "import finplan.cli\n"
        "try:\n"
        "    finplan.cli.main()\n"
        "except SystemExit:\n"
        f"    print([name for name in {HEAVY!r} if name in sys.modules])\n"
    )
    done = subprocess.run([sys.executable, "-c", program, option], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_module_runs_too() -> None:
    done = subprocess.run([sys.executable, "-m", "finplan", "--version"], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("finplan ")


def test_a_closed_pipe_is_no_error(demo: object) -> None:
    command = f"'{sys.executable}' -m finplan catalogue | head -n 1"
    done = subprocess.run(["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert done.stderr == ""


def test_every_command_has_help() -> None:
    from finplan.cli.app import program

    commands = program().commands
    assert set(commands) >= {"check", "areas", "materials", "sanding", "timetable", "sheet", "catalogue", "demo"}
    for name, command in commands.items():
        assert command.help, name
        for parameter in command.params:
            assert getattr(parameter, "help", None), f"{name} {parameter.name}"


def test_check_reads_common_files_with_few_libraries(demo: Path) -> None:
    # What people write every day is looked up; the unit library, and numbers by the thousand, are not needed for it.
    program = "import sys, finplan.cli\ntry:\n    finplan.cli.main()\nexcept SystemExit:\n    pass\n"
    program += "print([name for name in ('pint', 'numpy', 'ortools', 'jinja2', 'holidays') if name in sys.modules])"
    command = ["check", str(demo / "round-table.yaml")]
    done = subprocess.run([sys.executable, "-c", program, *command], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]", done.stdout
