"""A well-mixed box of air: what it holds of what is given off in it, solved in time."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from finplan.safety.emission import Emission

HoursArray = npt.NDArray[np.float64]
"""Moments or spans, one after the other. [h]"""
Shares = npt.NDArray[np.float64]
"""Of emissions, a row each, at moments, a column each."""
LEAST_PACE = 1e-6
"""Air of a box that is changed less often than this is taken to be changed so often: once in a hundred years. [1/h]"""


@dataclass(frozen=True, slots=True)
class InBox:
    """What the air of a box holds of each emission."""

    held: Shares
    summed_h: Shares
    """The same, summed up over time. [h]"""


class GivenOff:
    """What emissions give off, each in a box of air by itself: solved for all of them and all moments at once.

    Parameters
    ----------
    emissions
        The emissions
    at_h
        Moments, as the emissions have them. [h]
    """

    def __init__(self, emissions: Sequence[Emission], at_h: HoursArray) -> None:
        start_h, end_h = (
            _column(emission.start_h for emission in emissions),
            _column(emission.end_h for emission in emissions),
        )
        worked_h, decay_h = end_h - start_h, _column(emission.decay_h for emission in emissions)
        self._putting_h = np.clip(at_h - start_h, 0.0, worked_h)
        """For how long each has been put on."""
        self._after_h = np.clip(at_h - end_h, 0.0, None)
        """How long ago it was finished."""
        self._worked, self._dries = worked_h > 0, decay_h > 0
        # An hour stands in where nothing is divided: what is reckoned with it is left out.
        self._worked_h, self._decay_h = np.where(self._worked, worked_h, 1.0), np.where(self._dries, decay_h, 1.0)
        self._falling = _column(emission.falling(emission.end_h) for emission in emissions)
        self._still_wet = _column(emission.still_wet for emission in emissions)

    @cached_property
    def shares(self) -> Shares:
        """What share of each has been given off.

        It is put on evenly from its start to its end, and what has been put on gives off in proportion to what it still
        holds: by u hours after the start ``(u - τ (1 - exp(-u / τ))) / w`` with w the hours of putting on.
        """
        kept_h = np.where(self._dries, self._decay_h * np.expm1(-self._putting_h / self._decay_h), 0.0)
        of_worked = np.where(self._worked, (self._putting_h + kept_h) / self._worked_h, 0.0)
        return np.asarray(of_worked + self._still_wet * -np.expm1(-self._after_h / self._decay_h))

    def held(self, pace: float) -> Shares:
        """Return what share of each the air of its box holds.

        Parameters
        ----------
        pace
            How often the air of the box is changed in an hour: its flow over its volume. [1/h]

        Notes
        -----
        The solution of ``dm/dt = g(t) - k m`` with g as in ``shares`` and nothing in the box before: while it is put on
        ``((1 - exp(-k u)) / k - B(k, 1/τ, u)) / w``, and after it ``m exp(-k x) + g B(k, 1/τ, x)`` with m and g at its
        end and x the hours since. ``B(a, b, t) = (exp(-b t) - exp(-a t)) / (a - b)`` is what a source that falls at one
        pace leaves in air that is changed at another.
        """
        pace = max(pace, LEAST_PACE)
        put_on = -np.expm1(-pace * self._putting_h) / pace / self._worked_h
        wet = np.where(self._dries, self._between(pace, self._putting_h) / self._worked_h, 0.0)
        at_end = np.where(self._worked, put_on - wet, 0.0)
        left = at_end * np.exp(-pace * self._after_h)
        return np.asarray(left + self._falling * self._between(pace, self._after_h))

    def in_box(self, pace: float) -> InBox:
        """Return what share of each the air of its box holds, and that summed up over time.

        Parameters
        ----------
        pace
            As in ``held``

        Notes
        -----
        What was given off is in the box or has left it: ``∫ m dt = (given off - held) / k``.
        """
        held = self.held(pace)
        return InBox(held, np.asarray((self.shares - held) / max(pace, LEAST_PACE)))

    def _between(self, pace: float, hours: HoursArray) -> HoursArray:
        drying = 1 / self._decay_h
        slower, apart = np.minimum(pace, drying), np.maximum(np.abs(pace - drying), 1e-9 * drying)
        return np.asarray(np.exp(-slower * hours) * -np.expm1(-apart * hours) / apart)


def _column(values: Iterable[float]) -> npt.NDArray[np.float64]:
    return np.array(list(values), float).reshape(-1, 1)
