"""How long the sheet of the first demo piece takes, beside the page renderer alone on the same page.

Run: python tests/benchmarks/bench_sheet.py, on a machine that does nothing else.

Printed are medians of processes that are started in turn, and the ratio of the first two. All keep their bytecode, as
an installed program does.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from finplan.demo import write_demo

RUNS = 7
ALONE = """\
import sys
import weasyprint
fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
page = weasyprint.HTML(filename=sys.argv[1], url_fetcher=fetcher)
page.write_pdf(sys.argv[2], full_fonts=True, pdf_variant="pdf/ua-1")
"""


def seconds(*command: str) -> float:
    """Return how long a process takes from its start to its end."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    begun = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, env=kept)
    return time.perf_counter() - begun


def main() -> None:
    """Print the times and their ratio."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_demo(folder, date(2027, 1, 29))
        piece = str(folder / "round-table.yaml")
        page, pdf = str(folder / "page.html"), str(folder / "page.pdf")
        asked = (sys.executable, "-m", "finplan", "sheet", piece, "--no-ledger", "--from", "2027-02-01", "-o")
        seconds(*asked, page)
        whole_s, alone_s, page_s = [], [], []
        for _ in range(RUNS):
            alone_s.append(seconds(sys.executable, "-c", ALONE, page, pdf))
            whole_s.append(seconds(*asked, pdf))
            page_s.append(seconds(*asked, page))
    whole, alone, made = (statistics.median(found) for found in (whole_s, alone_s, page_s))
    sys.stdout.write(
        f"file to PDF {whole:.2f} s, the renderer alone {alone:.2f} s: {whole / alone:.2f} times; "
        f"file to HTML {made:.2f} s\n"
    )


if __name__ == "__main__":
    main()
