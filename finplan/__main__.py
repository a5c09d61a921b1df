"""Run the command line with ``python -m finplan``."""

from finplan.cli import main

if __name__ == "__main__":
    main()
