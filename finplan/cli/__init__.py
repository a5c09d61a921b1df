"""The command line: read, call, print. Everything heavy is imported inside the command that needs it."""

from finplan.cli.app import main

__all__ = ["main"]
