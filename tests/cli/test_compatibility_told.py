"""How the commands tell what does not go together, and what risks to fail."""

from __future__ import annotations

from pathlib import Path

from tests.conftest import EXAMPLE, Cli

TEAK = EXAMPLE.replace("timber: ash", "timber: teak").replace("system: hardwax-oil", "system: oil-varnish")


def test_a_refusal_is_one_line_with_reason_and_remedy(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "table.yaml"
    file.write_text(TEAK, encoding="utf-8")
    line = (
        f"{file}:6:9: system: oil varnish on teak: the oils in the wood keep it from hardening, so it stays tacky and "
        "peels; wipe the wood with fast solvent and choose polyurethane-2k, which isolates, or an oil; or seal the "
        "wood with shellac, 2 lb cut, dewaxed first"
    )
    for command in ("materials", "sanding", "timetable"):
        ended = cli(command, file)
        assert (ended.status, ended.out, ended.err) == (2, "", f"{line}\n"), command
    output = tmp_path / "sheet.html"
    assert cli("sheet", file, "-o", output).status == 2
    assert not output.exists()
    checked = cli("check", file)
    assert (checked.status, checked.out.splitlines()[0]) == (2, line)
    assert cli("areas", file).status == 0


def test_a_risk_is_said_once_and_stops_nothing(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "table.yaml"
    text = EXAMPLE.replace("timber: ash", "timber: white-oak").replace("hardwax-oil", "waterborne-polyurethane")
    file.write_text(text, encoding="utf-8")
    risk = f"{file}:6:9: warning: system: waterborne polyurethane on white oak: water draws tannin out"
    output = tmp_path / "sheet.html"
    dated = ("--from", "2027-02-01")
    for command, *options in (["materials"], ["sanding"], ["timetable", *dated], ["sheet", *dated, "-o", str(output)]):
        ended = cli(command, file, *options)
        assert ended.status == 0, command
        assert ended.err.startswith(risk), command
        assert len(ended.err.splitlines()) == 1, command
    checked = cli("check", file)
    assert checked.status == 0
    assert checked.out.startswith(risk)
    assert "9 parts, 1 thing to look at\n" in checked.out
    assert cli("areas", file).err == ""
    assert cli("draw", file, "-o", tmp_path / "drawings").err == ""
    html = output.read_text(encoding="utf-8")
    assert html.count("Waterborne polyurethane on white oak: water draws tannin out") == 1
    assert "Mind for this timber, finish and shop" in html


def test_check_finds_a_refusal_beside_a_part_that_lacks_its_timber(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "table.yaml"
    text = TEAK.replace("timber: teak\n", "").replace("diameter: 1100", "diameter: 1100\n    timber: teak")
    file.write_text(text, encoding="utf-8")
    checked = cli("check", file)
    assert checked.status == 2
    assert "no timber is named for it" in checked.out
    assert "parts.top.timber: oil varnish on teak" in checked.out


def test_a_shop_that_knows_better_turns_a_refusal_into_a_warning(tmp_path: Path, cli: Cli) -> None:
    file, shop = tmp_path / "table.yaml", tmp_path / "shop.yaml"
    file.write_text(TEAK, encoding="utf-8")
    shop.write_text(
        "shop: Boat yard\noverrides:\n  compatibility:\n    varnish-on-oily-timber: {verdict: warn}\n", encoding="utf-8"
    )
    ended = cli("materials", file, "--shop", shop)
    assert ended.status == 0
    assert ended.err.startswith(f"{file}:6:9: warning: system: oil varnish on teak")


def test_a_rule_with_a_slip_is_refused(tmp_path: Path, cli: Cli) -> None:
    file, shop = tmp_path / "table.yaml", tmp_path / "shop.yaml"
    file.write_text(EXAMPLE, encoding="utf-8")
    for label, words in (
        ("anything-over-wax: {under: [waxs]}", "'waxs' is neither a name nor a word of rules; did you mean 'wax'?"),
        ("anything-over-wax: {over: [any, not waxs]}", "did you mean 'wax'?"),
        ("anything-over-wax: {on: [teak]}", "a rule speaks of a coat or of a timber"),
        ("soap-on-dark-timber: {on: [darc]}", "did you mean 'dark'?"),
        ("soap-on-dark-timber: {after: 3 d}", "a timber does not harden"),
        ("waterborne-over-oil: {tie-coat: shelac}", "did you mean 'shellac'?"),
    ):
        shop.write_text(f"shop: Yard\noverrides:\n  compatibility:\n    {label}\n", encoding="utf-8")
        ended = cli("materials", file, "--shop", shop)
        assert ended.status == 2, label
        assert words in ended.err, label
        assert f"{shop}:4:" in ended.err, label
