"""A well-mixed box of air: what it holds of what is given off in it, solved in time."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from finplan.safety.emission import Emission

HoursArray = npt.NDArray[np.float64]
"""Moments or spans, one after the other. [h]"""
LEAST_PACE = 1e-6
"""Air of a box that is changed less often than this is taken to be changed so often: once in a hundred years. [1/h]"""


def given_off(one: Emission, at_h: HoursArray) -> HoursArray:
    """Return the share of an emission that has been given off, at moments.

    Parameters
    ----------
    one
        The emission
    at_h
        Moments, as the emission has them. [h]

    Notes
    -----
    It is put on evenly from its start to its end, and what has been put on gives off in proportion to what it still
    holds: by u hours after the start ``(u - τ (1 - exp(-u / τ))) / w`` with w the hours of putting on.
    """
    worked_h = one.end_h - one.start_h
    putting_h, after_h = _spans(one, at_h)
    if one.decay_h == 0:
        return putting_h / worked_h
    wet = one.still_wet * -np.expm1(-after_h / one.decay_h)
    if worked_h == 0:
        return wet
    return (putting_h + one.decay_h * np.expm1(-putting_h / one.decay_h)) / worked_h + wet


def held(one: Emission, at_h: HoursArray, pace: float | HoursArray) -> HoursArray:
    """Return the share of an emission that the air of a box holds, at moments.

    Parameters
    ----------
    one
        The emission
    at_h
        Moments, as the emission has them. [h]
    pace
        How often the air of the box is changed in an hour: its flow over its volume. [1/h]

    Notes
    -----
    The solution of ``dm/dt = g(t) - k m`` with g as in ``given_off`` and nothing in the box before: while it is put on
    ``((1 - exp(-k u)) / k - B(k, 1/τ, u)) / w``, and after it ``m exp(-k x) + g B(k, 1/τ, x)`` with m and g at its end
    and x the hours since. ``B(a, b, t) = (exp(-b t) - exp(-a t)) / (a - b)`` is what a source that falls at one pace
    leaves in air that is changed at another.
    """
    pace = np.maximum(pace, LEAST_PACE)
    worked_h = one.end_h - one.start_h
    putting_h, after_h = _spans(one, at_h)
    in_air = -np.expm1(-pace * putting_h) / pace / worked_h if worked_h else np.zeros_like(at_h)
    if one.decay_h == 0:
        return in_air * np.exp(-pace * after_h)
    if worked_h:
        in_air = in_air - _between(pace, 1 / one.decay_h, putting_h) / worked_h
    return in_air * np.exp(-pace * after_h) + one.falling(one.end_h) * _between(pace, 1 / one.decay_h, after_h)


def breathed(one: Emission, at_h: HoursArray, pace: float) -> HoursArray:
    """Return the share of an emission in the air of a box, summed up over time. [h]

    Parameters
    ----------
    one, at_h, pace
        As in ``held``

    Notes
    -----
    What was given off is in the box or has left it: ``∫ m dt = (given off - held) / k``.
    """
    return (given_off(one, at_h) - held(one, at_h, pace)) / max(pace, LEAST_PACE)


def _spans(one: Emission, at_h: HoursArray) -> tuple[HoursArray, HoursArray]:
    """Return for how long it has been put on at each moment, and how long ago it was finished. [h]"""
    putting_h = np.clip(at_h - one.start_h, 0.0, one.end_h - one.start_h)
    return putting_h, np.clip(at_h - one.end_h, 0.0, None)


def _between(pace: float | HoursArray, other: float, hours: HoursArray) -> HoursArray:
    slower, apart = np.minimum(pace, other), np.abs(np.subtract(pace, other))
    apart = np.maximum(apart, 1e-9 * other)
    return np.asarray(np.exp(-slower * hours) * -np.expm1(-apart * hours) / apart)
