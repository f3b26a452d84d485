"""How a loop becomes machine code: the one door to the compiler, which is an extra and may be missing.

Nothing imports this file but the loops it compiles, and nothing imports those but ``which_way``, inside functions.
Compiled loops are kept between starts only where the compiler was given a folder for that (its environment variable
NUMBA_CACHE_DIR, which an application sets); this library writes nothing of its own accord.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba

Loop = TypeVar("Loop", bound=Callable[..., Any])

KEEPS = bool(getattr(numba.config, "CACHE_DIR", ""))


def compiled(loop: Loop) -> Loop:
    """Compile a loop of numbers at its first call; others may run meanwhile, and nought divides to infinity."""
    make = numba.njit(cache=KEEPS, nogil=True, error_model="numpy", fastmath={"contract"})
    return cast(Loop, make(loop))


def compiled_exactly(loop: Loop) -> Loop:
    """Compile a loop whose sums are those of NumPy to the last bit: no product is contracted into a sum."""
    make = numba.njit(cache=KEEPS, nogil=True, error_model="numpy")
    return cast(Loop, make(loop))
