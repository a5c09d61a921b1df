"""The command line: read, call, print. Everything heavy is imported inside the command that needs it."""

import sys

__all__ = ["main"]


def main() -> None:
    """Run the command line; a break from the keyboard is heard while it still loads, and while it ends."""
    try:
        from finplan.cli.app import main as loaded

        loaded()
    except KeyboardInterrupt:
        sys.exit(130)
