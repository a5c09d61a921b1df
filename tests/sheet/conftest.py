"""Plans to print, made once: a table with an oil, and a stress piece in US units with names that want to be markup."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.plan import Plan, make_plan, read_source
from finplan.sheet import sheet_html, write_pdf

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
COLD_SHOP = """\
shop: Cold shop
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
    return make_plan(read_source(piece_file, shop_file if shop else None), now=NOW)


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
    return _plan(tmp_path_factory.mktemp("two-systems"), TWO_SYSTEMS)


@pytest.fixture(scope="session")
def panels(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Fourteen loose panels that all get the same."""
    return _plan(tmp_path_factory.mktemp("panels"), PANELS)


@pytest.fixture(scope="session")
def foreign(hostile: Plan) -> Plan:
    """The same with a name in letters that the bundled fonts lack."""
    piece_file = hostile.source.piece_file
    piece = replace(piece_file.piece, name="Table for 東京")
    return replace(hostile, source=replace(hostile.source, piece_file=replace(piece_file, piece=piece)))


@pytest.fixture(scope="session")
def table_pdf(table: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of the table."""
    file = tmp_path_factory.mktemp("pdf") / "table.pdf"
    write_pdf(sheet_html(table), file)
    return file


@pytest.fixture(scope="session")
def hostile_pdf(hostile: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of the piece with hostile names."""
    file = tmp_path_factory.mktemp("pdf") / "hostile.pdf"
    write_pdf(sheet_html(hostile), file)
    return file
