"""How fast timetables are found in CPU seconds: what goes by before a solver is asked, and the plan made at once.

Run: python tests/benchmarks/bench_timetable.py [PIECES …], by default 1 6 20 40.

The pieces are those of the demo, in turn, with shellac (some 20 operations each), one due every third working day;
all in one run, so that the machine's mood does not matter to ratios.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from finplan.demo import write_demo
from finplan.planning import PlannedPiece, Source, read_sources, work_of
from finplan.reading import GivenDate
from finplan.timetable import Job, PieceWork, Planner
from finplan.timetable.buffer import buffer_wanted
from finplan.timetable.found import Found
from finplan.timetable.late import plan_late, shortest_plan_hours

START = datetime(2027, 3, 1, tzinfo=UTC)
FIRST_DUE = date(2027, 4, 5)


def piece_work(source: Source, called: str, due: date, system: str) -> PieceWork:
    """Return a demo piece under another system, due on a day."""
    piece = replace(source.piece, system=system)
    piece = replace(piece, parts={name: part.model_copy(update={"system": None}) for name, part in piece.parts.items()})
    return work_of(PlannedPiece(source.with_piece(piece), piece.name, called), GivenDate.parse(str(due)), {})


def job_of(folder: Path, pieces: int) -> Job:
    """Return a job of so many pieces."""
    files = [folder / "round-table.yaml", folder / "hall-bench.yaml"]
    sources = read_sources(files, folder / "shop.yaml")
    works = tuple(
        piece_work(sources[number % 2], f"{number}", FIRST_DUE + timedelta(days=3 * number), "shellac")
        for number in range(pieces)
    )
    return Job(works, sources[0].catalogue, sources[0].shop, START)


def told(pieces: int, planner: Planner, found: Found, seconds: float) -> str:
    """Return a line about a plan."""
    operations = sum(len(piece.open) for piece in planner.job.pieces)
    begun = time.process_time()
    planner.made_late(found.buffer)
    made = time.process_time() - begun
    stages = ", ".join(
        f"{type(stage.objective).__name__} {stage.value} of at best {stage.bound}" for stage in found.result.stages[:2]
    )
    return (
        f"{pieces:3} pieces, {operations:4} operations: {seconds:6.2f} s, {found.result.status}; "
        f"made at once in {made:5.2f} s, {made / seconds:.0%} of it; {stages}"
    )


def before_the_solver(job: Job) -> str:
    """Return a line about what a plan takes before a solver is asked: tables, the plan made at once, the problem."""
    shares: dict[str, float] = {}
    begun = time.process_time()

    def took(what: str) -> None:
        nonlocal begun
        now = time.process_time()
        shares[what] = now - begun
        begun = now

    planner = Planner(job)
    took("tables of hours and drying")
    buffer = buffer_wanted(job.shop, shortest_plan_hours(planner), job.catalogue.time_in_hand["common"])
    took("the shortest plan by waits alone")
    made = planner.made_late(buffer)
    took("the plan that is made at once")
    planner.placement({} if made is None else made.windows)
    took("the problem")
    ready = sum(shares.values())
    plan_late(Planner(job))
    took("all of it, with the solver")
    each = ", ".join(f"{what} {seconds / ready:.0%}" for what, seconds in list(shares.items())[:-1])
    share = ready / shares["all of it, with the solver"]
    return f"before the solver {ready * 1000:.0f} ms, {share:.0%} of the whole plan: {each}"


def main() -> None:
    """Print a line for each number of pieces."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        write_demo(folder, date(2027, 3, 1))
        before_the_solver(job_of(folder, 1))  # what is imported only once
        print(before_the_solver(job_of(folder, 1)))  # noqa: T201
        for pieces in [int(text) for text in sys.argv[1:]] or [1, 6, 20, 40]:
            begun = time.process_time()
            planner = Planner(job_of(folder, pieces))
            sure = plan_late(planner)
            if sure is None:
                print(f"{pieces} pieces: no plan")  # noqa: T201
                continue
            print(told(pieces, planner, sure.found, time.process_time() - begun))  # noqa: T201


if __name__ == "__main__":
    main()
