"""A template with its words, its style and its fonts inside it: one page of HTML that needs nothing beside itself."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

from finplan import nothing
from finplan.resources import data_dir
from finplan.typesetting.fonts import font_faces

if TYPE_CHECKING:
    from jinja2 import Environment

_FROM_THE_RIGHT = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
"""Letters of the blocks that are written from right to left: Unicode Standard, blocks of class R and AL."""
_FONTS = "/* fonts */"
"""Where the fonts go, which are known when the words are."""
_BEFORE_BOLD = re.compile(r"(?<=[^\s>])[ \n]+<(strong[^<>]*)>")
"""A space before bold words. Where that space alone is too much for a line the renderer breaks it after its first word,
but not where the space is within the bold words."""
_AT_THE_END = re.compile(r"\s+(?=</(?:p|td|th|div|h[1-6]|li)>|<br>)")
"""Space after the last word of a line or a block. Where that space alone is too much for a line the renderer breaks it
after its first word likewise."""
_RUN = re.compile(rf"{_FROM_THE_RIGHT}++(?:[\s'’-]*+{_FROM_THE_RIGHT}++)*+")
_NO_MARKUP = re.compile(r'="[^"]*+"|<(textarea|title|option)\b[^>]*+>.*?</\1>', re.DOTALL)
"""Where a browser reads no markup: values of attributes, and what stands in elements that hold plain text."""


def apart(value: object) -> object:
    """Return what is put into a page, each run of words from right to left isolated from what stands around it.

    Else figures beside a name would be drawn into it and change their order: Unicode Standard Annex 9, rules N1 and W2.
    What is markup already is left alone.

    >>> apart("שולחן: 60 mg")
    Markup('<bdi>שולחן</bdi>: 60 mg')
    """
    if not isinstance(value, str) or isinstance(value, Markup) or _RUN.search(value) is None:
        return value
    return Markup(_RUN.sub(r"<bdi>\g<0></bdi>", str(escape(value))))  # noqa: S704 - escaped first


def _plain_where_it_is_read_so(page: str) -> str:
    """Take back what ``apart`` put where it would be read as letters, and sent back into the file as such.

    >>> _plain_where_it_is_read_so('<p title="<bdi>שולחן</bdi>"><bdi>שולחן</bdi>')
    '<p title="שולחן"><bdi>שולחן</bdi>'
    """
    if "<bdi>" not in page:
        return page
    return _NO_MARKUP.sub(lambda plain: plain[0].replace("<bdi>", "").replace("</bdi>", ""), page)


def tick(label: object) -> Markup:
    """Return a box to tick: with a pencil on paper, with a finger on a screen, and told by its label where it is heard.

    >>> tick("Gloves & goggles")
    Markup('<input type="checkbox" class="box" aria-label="Gloves &amp; goggles">')
    """
    return Markup('<input type="checkbox" class="box" aria-label="{}">').format(label)


def ticked(words: str, label: str | None = None) -> Markup:
    r"""Return a box to tick and its words, the first of which stays beside it; told by *label* where that is more.

    >>> ticked("Lids are on.").partition(">")[2]
    Markup('\xa0Lids are on.')
    """
    return Markup("{}\N{NO-BREAK SPACE}{}").format(tick(label or words), apart(words))


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    from finplan.typesetting.kept_code import KeptCode

    folder = data_dir("templates")
    environment = Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=apart,
    )
    environment.bytecode_cache = KeptCode(folder, environment)
    environment.globals["nothing"] = nothing
    environment.globals["tick"] = tick
    environment.globals["ticked"] = ticked
    return environment


def rendered(template: str, **values: object) -> str:
    """Return a template with what it asks for and nothing else: a page that fetches its style, or a part of one."""
    return _plain_where_it_is_read_so(_environment().get_template(template).render(**values))


def filled(template: str, *sections: str, **values: object) -> str:
    """Return a template with its style sheets and the fonts that its words need inside it.

    Parameters
    ----------
    template
        Which; the style sheet of the same name goes with it
    sections
        Whose style sheets come after that, in this order
    values
        What the template asks for
    """
    folder = data_dir("templates")
    styles = [(folder / f"{name}.css").read_text(encoding="utf-8") for name in (template, *sections)]
    # Only our own files go in unescaped: escaping would turn the quotation marks of the rules into character codes.
    style = Markup("\n".join(styles))  # noqa: S704
    page = _environment().get_template(f"{template}.html")
    words = _plain_where_it_is_read_so(page.render(**values, style=style, fonts=_FONTS))
    body = _AT_THE_END.sub("", _BEFORE_BOLD.sub(r"<\1> ", words))
    return body.replace(_FONTS, font_faces(words), 1)
