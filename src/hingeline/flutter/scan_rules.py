"""How closely the fast scan looks: the numbers that both of its ways, NumPy and compiled loops, go by."""

from __future__ import annotations

from typing import NamedTuple


class Rules(NamedTuple):
    """How closely to look.

    Parameters
    ----------
    looks, closer : int
        How often a window is divided, and into how many places.
    may_touch : float
        Of |R| at a least value: where a parabola through it and its neighbours goes lower, two zeros may hide.
    sharp : float
        Times the least |R|: where both neighbours are larger than that, the cells are too wide to tell.
    falls, steep : float
        Of the lower end: how low lines from both sides must meet; and how steep a fall is, from place to place.
    chords : int
        At most, to a zero of R.
    near, close : float
        Of ln k: how near a zero of R is taken before Newton begins, and how far Newton may move it.
    steps : int
        Of Newton, at most.
    settled : float
        Of z, and in ln k: Newton doubles the digits with each step, and lightly damped motions leave about ten.
    """

    looks: int = 10
    closer: int = 9
    may_touch: float = 0.7
    sharp: float = 2.0
    falls: float = 0.7
    steep: float = 6.0
    chords: int = 60
    near: float = 1e-8
    close: float = 1e-3
    steps: int = 12
    settled: float = 3e-9


RULES = Rules()
