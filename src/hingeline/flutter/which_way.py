"""Compiled loops or NumPy: which way thousands of small systems are worked, where both give one answer.

The compiler is an extra. Where it is missing everything is done by NumPy, and nothing is said: the compiled loops
agree with it to a part in 10^12, and hand back what they cannot be sure of.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

PAYS_FROM, PAYS_UNKEPT = 10_000, 200_000
"""Samples from which on the compiler's start is won back: half a second where compiled loops are kept, else ten."""


class CompiledLoops(NamedTuple):
    """What the loops of ``compiled_*`` do; and whether what was compiled is kept for the next start."""

    kept: bool
    take: Callable[..., bool]
    scan_samples: Callable[..., tuple[Any, Any, Any]]
    roots_of_many: Callable[..., tuple[Any, Any]]
    follow_roots: Callable[..., Any]
    count_in_one_air: Callable[..., Any]
    expanded: Callable[..., Any]


@cache
def compiled_loops() -> CompiledLoops | None:
    """Give the compiled loops, or None where the compiler is not installed or does not start."""
    try:
        from hingeline.flutter.compiled_count import count_in_one_air
        from hingeline.flutter.compiled_expansion import expanded
        from hingeline.flutter.compiled_roots import follow_roots, roots_of_many
        from hingeline.flutter.compiled_scan import scan_samples, take
        from hingeline.flutter.compiling import KEEPS
    except ImportError:
        return None
    return CompiledLoops(KEEPS, take, scan_samples, roots_of_many, follow_roots, count_in_one_air, expanded)


def loops_for(samples: int, compiled: bool | None = None) -> CompiledLoops | None:
    """Give the compiled loops where they are wanted and there.

    Parameters
    ----------
    samples : int
        How many systems there are in all.
    compiled : bool, optional
        Whether they are wanted; left out, where there are samples enough to pay for the compiler's start.

    Returns
    -------
    CompiledLoops or None
    """
    if compiled is False or (compiled is None and samples < PAYS_FROM):
        return None
    loops = compiled_loops()
    if loops is None or compiled or loops.kept or samples >= PAYS_UNKEPT:
        return loops
    return None
