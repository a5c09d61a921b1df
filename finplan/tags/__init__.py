"""Part tags: what is said of every wet coat, as large as fits, on sheets of labels."""

from finplan.tags.sheets import TagSheets, on_sheets, sheets_html, tag_sheets
from finplan.tags.tag import Tag, tags

__all__ = ["Tag", "TagSheets", "on_sheets", "sheets_html", "tag_sheets", "tags"]
