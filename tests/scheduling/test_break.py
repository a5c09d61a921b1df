"""A break from the keyboard ends a search, and the program with it."""

from __future__ import annotations

import signal
import subprocess
import sys

LONG_SEARCH = """
from random import Random
from finplan.cli.run import run
from finplan.scheduling import Activity, NotBefore, Problem, solve

random = Random(5)
jobs = [[f"{job}-{step}" for step in range(10)] for job in range(15)]
activities = []
for names in jobs:
    machines = random.sample(range(10), 10)
    activities += [Activity.of(n, random.randint(1, 99), {str(m): 1}) for n, m in zip(names, machines, strict=True)]
order = tuple(NotBefore(one, other) for names in jobs for one, other in zip(names, names[1:], strict=False))
problem = Problem(tuple(activities), 5000, order, capacities={str(m): 1 for m in range(10)})
told = lambda *_: print("searching", flush=True)
raise SystemExit(run(lambda: solve(problem, limit_s=600, workers=1, progress=told)))
"""
"""A job shop of 15 jobs on 10 machines, far more than can be proven in a minute."""
STATUS = 128 + signal.SIGINT


def test_a_search_is_given_up_at_once() -> None:
    child = subprocess.Popen([sys.executable, "-c", LONG_SEARCH], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert child.stdout is not None
    assert child.stdout.readline() == b"searching\n"
    child.send_signal(signal.SIGINT)
    _, complaints = child.communicate(timeout=30)
    # Where it comes while text is made into code, the interpreter ends by the signal itself: a shell tells the same.
    assert child.returncode in (STATUS, -signal.SIGINT)
    assert complaints in (b"", b"stopped: nothing was written that is not whole\n")
