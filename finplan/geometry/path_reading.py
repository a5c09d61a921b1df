"""Reading SVG path data: the text of an outline as lines, curves and arcs between points."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NoReturn

from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath

MAX_PATH_CHARACTERS = 200_000
MAX_SEGMENTS = 1000
MAX_NUMBER = 1e9

_NUMBER = re.compile(r"[-+]?(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?", re.ASCII)
_FLAG = re.compile("[01]")
_GAP = re.compile(r"[\t\n\f\r ]*")
_COMMA = re.compile(r"[\t\n\f\r ]*,?[\t\n\f\r ]*")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
# World Wide Web Consortium, Scalable Vector Graphics (SVG) 2, section 9.3: path data and its grammar.


class PathError(ValueError):
    """A text that is no path data."""

    def __init__(self, wrong: str, expected: str) -> None:
        self.wrong = wrong
        self.expected = expected
        super().__init__(f"{wrong}; {expected}")


def read_path(text: str) -> tuple[Subpath, ...]:
    """Return the closed subpaths of SVG 2 path data.

    Raises
    ------
    PathError
        The text is not path data, is too long, or leaves a subpath open.

    Examples
    --------
    >>> read_path("M0 0h8v5H0z")[0].segments
    (LineTo(end=(8+0j)), LineTo(end=(8+5j)), LineTo(end=5j), LineTo(end=0j))
    """
    if len(text) > MAX_PATH_CHARACTERS:
        raise PathError(f"the path is {len(text):,} characters long", f"expected at most {MAX_PATH_CHARACTERS:,}")
    return _Reader(text).read()


class _Reader:
    """Goes through the text once, the pen at ``here``."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.position = 0
        self.here = 0j
        self.start = 0j
        self.reflected: complex | None = None
        self.reflected_by = ""
        self.segments: list[Segment] = []
        self.subpaths: list[Subpath] = []
        self.count = 0

    def read(self) -> tuple[Subpath, ...]:
        self._skip(_GAP)
        if self.text[self.position : self.position + 1] not in ("M", "m"):
            self._stop("does not start with a move", "expected M and a point")
        while self.position < len(self.text):
            command = self.text[self.position]
            if command.upper() not in _COUNTS:
                self._stop(f"has {command!r}", "expected one of the commands M L H V C S Q T A Z, or a number")
            self.position += 1
            self._skip(_GAP)
            self._run(command)
        self._leave("leaves its last part open")
        if not self.subpaths:
            raise PathError("the path encloses nothing", "expected lines and curves back to its start")
        return tuple(self.subpaths)

    def _run(self, command: str) -> None:
        """Do a command, again for every further set of numbers."""
        if command in "Zz":
            self._close()
            return
        while True:
            numbers = self._numbers(command)
            self._do(command, numbers)
            if command in "Mm":
                command = "L" if command == "M" else "l"
            self._skip(_COMMA if self._number_follows() else _GAP)
            if not _NUMBER.match(self.text, self.position):
                return

    def _number_follows(self) -> bool:
        after = _COMMA.match(self.text, self.position)
        return bool(_NUMBER.match(self.text, after.end() if after else self.position))

    def _numbers(self, command: str) -> list[float]:
        numbers: list[float] = []
        wanted = _COUNTS[command.upper()]
        for index in range(wanted):
            if index:
                self._skip(_COMMA)
            flag = command in "Aa" and index in (3, 4)
            match = (_FLAG if flag else _NUMBER).match(self.text, self.position)
            if not match:
                expected = "the flag 0 or 1" if flag else f"{wanted} numbers after {command}"
                self._stop("breaks off" if self.position >= len(self.text) else "is not right", f"expected {expected}")
            number = float(match.group())
            if abs(number) > MAX_NUMBER:
                self._stop(f"has the number {match.group()[:20]}", f"expected none beyond {MAX_NUMBER:g}")
            numbers.append(number)
            self.position = match.end()
        return numbers

    def _do(self, command: str, numbers: list[float]) -> None:
        name, origin = command.upper(), self.here if command.islower() else 0j
        if name == "M":
            self._move(origin + complex(*numbers))
            return
        self.count += 1
        if self.count > MAX_SEGMENTS:
            raise PathError(
                f"the path has more than {MAX_SEGMENTS:,} lines and curves", f"expected at most {MAX_SEGMENTS:,}"
            )
        _DRAW[name](self, origin, numbers)

    def _move(self, to: complex) -> None:
        self._leave("leaves a part open before this move")
        self.here = self.start = to
        self.reflected = None

    def _leave(self, wrong: str) -> None:
        """End a part that no Z has closed: right only where it has come back to its start."""
        if self.segments and self.here != self.start:
            self._stop(wrong, "close it with Z")
        self._close()

    def _close(self) -> None:
        if self.here != self.start:
            self.segments.append(LineTo(self.start))
        if self.segments:
            self.subpaths.append(Subpath(self.start, tuple(self.segments)))
        self.segments, self.here = [], self.start
        self.reflected = None

    def _draw(self, segment: Segment, reflected: complex | None = None, by: str = "") -> None:
        self.segments.append(segment)
        self.here = segment.end
        self.reflected, self.reflected_by = (None if reflected is None else 2 * segment.end - reflected), by

    def _line(self, origin: complex, numbers: list[float]) -> None:
        self._draw(LineTo(origin + complex(*numbers)))

    def _level(self, origin: complex, numbers: list[float]) -> None:
        self._draw(LineTo(complex(origin.real + numbers[0], self.here.imag)))

    def _upright(self, origin: complex, numbers: list[float]) -> None:
        self._draw(LineTo(complex(self.here.real, origin.imag + numbers[0])))

    def _cubic(self, origin: complex, numbers: list[float]) -> None:
        first, second, end = _points(origin, numbers)
        self._draw(CubicTo(first, second, end), second, "cubic")

    def _smooth_cubic(self, origin: complex, numbers: list[float]) -> None:
        second, end = _points(origin, numbers)
        self._draw(CubicTo(self._reflection("cubic"), second, end), second, "cubic")

    def _quadratic(self, origin: complex, numbers: list[float]) -> None:
        control, end = _points(origin, numbers)
        self._draw(QuadraticTo(control, end), control, "quadratic")

    def _smooth_quadratic(self, origin: complex, numbers: list[float]) -> None:
        control, end = self._reflection("quadratic"), origin + complex(*numbers)
        self._draw(QuadraticTo(control, end), control, "quadratic")

    def _arc(self, origin: complex, numbers: list[float]) -> None:
        x_radius, y_radius, rotation, large, sweep, x, y = numbers
        radii, end = (abs(x_radius), abs(y_radius)), origin + complex(x, y)
        if 0.0 in radii:
            self._draw(LineTo(end))
        elif end != self.here:
            self._draw(ArcTo(radii, rotation, bool(large), bool(sweep), end))

    def _reflection(self, by: str) -> complex:
        """Return the last curve's control point seen from the pen's other side; without one, the pen itself."""
        return self.reflected if self.reflected is not None and self.reflected_by == by else self.here

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.position)
        self.position = match.end() if match else self.position

    def _stop(self, wrong: str, expected: str) -> NoReturn:
        raise PathError(f"the path {wrong}, at character {self.position + 1}", expected)


def _points(origin: complex, numbers: list[float]) -> list[complex]:
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return [origin + complex(x, y) for x, y in pairs]


_DRAW: dict[str, Callable[[_Reader, complex, list[float]], None]] = {
    "L": _Reader._line,
    "H": _Reader._level,
    "V": _Reader._upright,
    "C": _Reader._cubic,
    "S": _Reader._smooth_cubic,
    "Q": _Reader._quadratic,
    "T": _Reader._smooth_quadratic,
    "A": _Reader._arc,
}
