"""Plans to print, made once: a table with an oil, and a stress piece in US units with names that want to be markup."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import Plan, PlannedPiece, read_source, read_sources
from finplan.sheet import sheet_html
from finplan.timetable import Operation, PieceTimes, Timetable, TimetableStep
from finplan.typesetting import write_pdf
from tests.planned_once import DRAFTING, as_drafts
from tests.plans import make_plan
from tests.printed_once import Printer

NOW = datetime(2027, 2, 1, 8, tzinfo=UTC)

TABLE = """\
piece: Reading table, village library
customer: Reading room committee
lengths: mm
timber: ash
system: hardwax-oil
deliver: 2027-03-12 15:00
assemblies:
  base: {parts: [leg, apron]}
parts:
  top: {shape: disc, diameter: 1100, thickness: 28, edge: roundover 6}
  leg: {shape: square-leg, side: 60, length: 700, count: 4}
  apron: {shape: board, length: 620, width: 100, thickness: 22, count: 4, faces: {ends: {exposure: covered}}}
"""

HOSTILE_NAME = (
    "<script>alert(1)</script> <img src=http://example.invalid/x.png> file:///etc/passwd {{ 7*7 }} Łódź & more"
)
HOSTILE = f"""\
piece: "{HOSTILE_NAME}"
customer: "</style><link rel=stylesheet href=file:///etc/hosts> Čapek’s"
units: us
lengths: in
timber: walnut
system: polyurethane-2k
deliver: 2027-04-16
parts:
  "<b>lid</b> & an-unbreakably-long-name-of-a-part-xxxxxxxxxxx":
    {{shape: rectangle, length: 40, width: 20, thickness: 1}}
  rail: {{shape: board, length: 30, width: 4, thickness: 3/4, count: 4, faces: {{back: {{coats: 1}}}}}}
"""
RUBBED = """\
piece: Shelf
lengths: mm
timber: beech
system: shellac
parts:
  shelf: {shape: board, length: 800, width: 200, thickness: 20}
"""
BLEND = """\
piece: Tray
lengths: mm
timber: white-oak
system: oil-varnish-blend
parts:
  tray: {shape: board, length: 500, width: 300, thickness: 12}
"""
TWO_SYSTEMS = """\
piece: Table of two finishes
lengths: mm
timber: ash
system: polyurethane-2k
assemblies:
  base: {parts: [leg, apron]}
parts:
  top: {shape: rectangle, length: 900, width: 500, thickness: 25, faces: {underside: {system: wax}}}
  leg: {shape: square-leg, side: 50, length: 700, count: 4, system: hardwax-oil}
  apron: {shape: board, length: 500, width: 90, thickness: 20, count: 4, faces: {back: {system: hardwax-oil}}}
"""
PANELS = """\
piece: Wall panels
lengths: mm
timber: white-oak
system: hardwax-oil
parts:
""" + "".join(
    f"  panel {number}: {{shape: board, length: {500 + 10 * number}, width: 300, thickness: 18}}\n"
    for number in range(14)
)
DOORS = """\
piece: Two doors
lengths: mm
timber: beech
system: polyurethane-2k
deliver: 2027-03-12
parts:
  left door: {shape: board, length: 700, width: 450, thickness: 22}
  right door: {shape: board, length: 700, width: 450, thickness: 22}
"""
TRAY = """\
piece: Tray with a rim
customer: Nobody in particular
lengths: mm
timber: beech
system: hardwax-oil
deliver: 2027-03-10 12:00
parts:
  top: {shape: board, length: 500, width: 300, thickness: 12}
  rim: {shape: rod, diameter: 12, length: 1500}
"""
SPRAYING_SHOP = "shop: Default workshop\nspray-without-booth: I have read the local code\n"
NOTED_SHOP = """\
shop: Copper Beech joinery
notes:
  first-page: [The key to the store hangs behind the stove.]
  every-day: [Sign the board by the door.]
  care-card: [Questions are answered at the workshop on weekdays.]
"""
COLD_SHOP = """\
shop: Cold shop
spray-without-booth: I have read the local code
paper: letter
time-zone: America/New_York
climate:
  day: {from: 8:00, to: 18:00, temperature: 66 degF, humidity: 50 %}
  night: {temperature: 45 degF, humidity: 65 %}
"""


def _plan(folder: Path, piece: str, shop: str | None = None) -> Plan:
    piece_file, shop_file = folder / "piece.yaml", folder / "shop.yaml"
    piece_file.write_text(piece, encoding="utf-8")
    if shop is not None:
        shop_file.write_text(shop, encoding="utf-8")
    return make_plan([read_source(piece_file, shop_file if shop else None)], now=NOW)


@pytest.fixture(scope="session")
def table(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A table with a hardwax oil, in the default shop."""
    return _plan(tmp_path_factory.mktemp("table"), TABLE)


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A piece of two parts whose names are markup, on US Letter, in a shop that is cold at night."""
    return _plan(tmp_path_factory.mktemp("hostile"), HOSTILE, COLD_SHOP)


@pytest.fixture(scope="session")
def rubbed(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """One board with four coats of shellac, rubbed out and waxed, in the default shop."""
    return _plan(tmp_path_factory.mktemp("rubbed"), RUBBED)


@pytest.fixture(scope="session")
def blend(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """One board with three coats, of which the second goes on the first without abrading."""
    return _plan(tmp_path_factory.mktemp("blend"), BLEND)


@pytest.fixture(scope="session")
def two_systems(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A table whose top and base each get two systems on different faces."""
    return _plan(tmp_path_factory.mktemp("two-systems"), TWO_SYSTEMS, SPRAYING_SHOP)


@pytest.fixture(scope="session")
def two_pieces(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A table and a tray with a part of the same name, in a shop that has something to say."""
    folder = tmp_path_factory.mktemp("two-pieces")
    (folder / "table.yaml").write_text(TABLE, encoding="utf-8")
    (folder / "tray.yaml").write_text(TRAY, encoding="utf-8")
    (folder / "shop.yaml").write_text(NOTED_SHOP, encoding="utf-8")
    sources = read_sources([folder / "table.yaml", folder / "tray.yaml"], folder / "shop.yaml")
    return make_plan(sources, now=NOW)


@pytest.fixture(scope="session")
def panels(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Fourteen loose panels that all get the same, in turn: a day for each step of all of them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DRAFTING, as_drafts(in_turn))
        return _plan(tmp_path_factory.mktemp("panels"), PANELS)


@pytest.fixture(scope="session")
def doors(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Two doors with two coats of a mixed lacquer, first on their backs, then on their fronts."""
    return _plan(tmp_path_factory.mktemp("doors"), DOORS, SPRAYING_SHOP)


def in_turn(pieces: Sequence[PlannedPiece], *_: object, now: datetime, **__: object) -> Timetable:
    """A timetable made by hand: every step on all items, one item after the other; the next step on the next day."""
    by_item: dict[str, list[Operation]] = {}
    for operation in pieces[0].operations:
        by_item.setdefault(operation.item, []).append(operation)
    days = zip(*by_item.values(), strict=True)
    steps = [step for number, of_day in enumerate(days) for step in _one_after_the_other(of_day, now + number * _A_DAY)]
    start, ready = steps[0].start, steps[-1].end
    times = PieceTimes("Wall panels", start, ready, None, None, None)
    return Timetable("feasible", steps=tuple(steps), pieces=(times,), start=start, ready=ready)


_A_DAY = timedelta(days=1)


def _one_after_the_other(operations: Sequence[Operation], start: datetime) -> Iterator[TimetableStep]:
    for operation in operations:
        end = start + timedelta(minutes=operation.work_min)
        dry = None if operation.finish is None else end + timedelta(hours=18)
        row = TimetableStep(
            id=operation.id,
            piece="Wall panels",
            item=operation.item,
            step=operation.label,
            kind="attended",
            deed=operation.deed,
            start=start,
            end=end,
            person="Maker",
            room="shop",
            next_from=dry,
            handle_from=dry,
            alone_until=dry,
            of_step=operation.of_step,
            side=operation.side,
        )
        yield row
        if dry is not None:
            yield replace(row, id=f"{row.id}/dry", kind="drying", start=end, end=dry, person=None, dries=row.id)
        start = end
    clean_up = operations[-1].clean_up
    if clean_up is not None:
        end = start + timedelta(minutes=clean_up.work_min)
        row = replace(row, id=clean_up.id, step=clean_up.label, deed="clean-up", start=start, end=end)
        row = replace(row, next_from=None, handle_from=None, alone_until=None)
        yield row


@pytest.fixture(scope="session")
def foreign(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A piece with a name in letters that the font of the sheet lacks."""
    return _plan(tmp_path_factory.mktemp("foreign"), BLEND.replace("piece: Tray", "piece: Table for ไทย"))


@pytest.fixture(scope="session")
def table_pdf(table: Plan, printer: Printer, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of the table."""
    file = tmp_path_factory.mktemp("pdf") / "table.pdf"
    write_pdf(sheet_html(table, with_appendix=True), file, printer)
    return file


@pytest.fixture(scope="session")
def hostile_pdf(hostile: Plan, printer: Printer, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of the piece with hostile names."""
    file = tmp_path_factory.mktemp("pdf") / "hostile.pdf"
    write_pdf(sheet_html(hostile, with_appendix=True), file, printer)
    return file


@pytest.fixture(scope="session")
def two_pieces_pdf(two_pieces: Plan, printer: Printer, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of two pieces together."""
    file = tmp_path_factory.mktemp("pdf") / "two-pieces.pdf"
    write_pdf(sheet_html(two_pieces, with_appendix=True), file, printer)
    return file
