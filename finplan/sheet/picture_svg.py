"""The picture of the whole time as one SVG, for who shows a plan elsewhere than on the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from finplan.planning import Plan
from finplan.sheet.picture import WIDTH, Picture, picture
from finplan.sheet.picture_row import BAR_HEIGHT, BAR_TOP, Bar, PictureRow

_HEAD, _NAME, _ROW, _FOOT = 62.0, 38.0, 60.0, 96.0
_FONT = 'font-family="sans-serif" font-size="30"'
_LEGEND = "White: sanding, other work. Black: a coat. Hatched: wet, not to be moved."
_LINES = "Grey: somebody works. Dashed: ready."


def picture_svg(plan: Plan) -> str | None:
    """Return the picture of a plan, a line for each item under its name; None where nothing is planned."""
    drawn = picture(plan)
    if drawn is None:
        return None
    height = _HEAD + len(drawn.rows) * (_NAME + _ROW) + _FOOT
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" width="100%" role="img">',
        f"<title>{escape(drawn.words)}</title>",
        f'<rect width="{WIDTH:g}" height="{height:g}" fill="#fff"/>',
        *(f'<text x="{tick.x + 6:g}" y="36" {_FONT}>{escape(tick.label)}</text>' for tick in drawn.ticks if tick.label),
        *_ticks(drawn, 12.0, _HEAD),
    ]
    top = _HEAD
    for row in drawn.rows:
        lines.append(f'<text x="6" y="{top + 28:g}" {_FONT}>{escape(row.item)}</text>')
        lines.append(f'<g transform="translate(0 {top + _NAME:g})"><title>{escape(row.words)}</title>')
        lines += _row(row, drawn)
        lines.append("</g>")
        top += _NAME + _ROW
    due = " Thick: delivery." if any(row.deliver_x is not None for row in drawn.rows) else ""
    lines.append(f'<text x="6" y="{top + 40:g}" {_FONT}>{_LEGEND}</text>')
    lines.append(f'<text x="6" y="{top + 80:g}" {_FONT}>{_LINES}{due}</text></svg>')
    return "".join(lines)


def _row(row: PictureRow, drawn: Picture) -> Iterator[str]:
    yield from _bars(drawn.working, 0.0, _ROW, 'fill="#e6e6e6"')
    yield from _ticks(drawn, 0.0, _ROW)
    yield from _bars(row.drying, BAR_TOP, BAR_HEIGHT, 'fill="#fff" stroke="#000" stroke-width="2"')
    yield f'<path fill="none" stroke="#000" stroke-width="2" d="{row.hatching}"/>'
    for bar in row.windows:
        yield f'<path fill="none" stroke="#000" stroke-width="3" d="M{bar.x:g} 52H{bar.end:g}"/>'
    yield from _bars(row.work, BAR_TOP, BAR_HEIGHT, 'fill="#fff" stroke="#000" stroke-width="3"')
    yield from _bars(row.coats, BAR_TOP - 5, BAR_HEIGHT + 10, 'fill="#000"')
    yield f'<path stroke="#000" stroke-width="4" stroke-dasharray="8 6" d="M{row.ready_x:g} 0V{_ROW:g}"/>'
    if row.deliver_x is not None:
        yield f'<path stroke="#000" stroke-width="6" d="M{row.deliver_x:g} 0V{_ROW:g}"/>'


def _ticks(drawn: Picture, top: float, bottom: float) -> Iterator[str]:
    for tick in drawn.ticks:
        width = 3 if tick.strong else 0.8
        yield f'<path stroke="#000" stroke-width="{width}" d="M{tick.x:g} {top:g}V{bottom:g}"/>'


def _bars(bars: Iterable[Bar], top: float, height: float, style: str) -> Iterator[str]:
    for bar in bars:
        yield f'<rect x="{bar.x:g}" y="{top:g}" width="{bar.width:g}" height="{height:g}" {style}/>'
