"""An uncertainty as somebody states it, and the standard uncertainty that it stands for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hingeline.errors import InputRefused
from hingeline.fields import OwnUnit

Shape = Literal["limit", "triangular", "standard", "expanded", "resolution"]

# Standard uncertainty over the stated amount (GUM 4.3.7, 4.3.9, F.2.2.1).
_FACTOR: dict[str, float] = {
    "limit": 1.0 / math.sqrt(3.0),
    "triangular": 1.0 / math.sqrt(6.0),
    "standard": 1.0,
    "resolution": 1.0 / math.sqrt(12.0),
}


@dataclass(frozen=True, slots=True)
class Stated:
    """An uncertainty as stated.

    Parameters
    ----------
    amount : float
        Half-width, standard or expanded uncertainty, or full step, by ``shape`` [``unit``].
    unit : {"kg", "N", "m", "rad", "m/s^2", "1"}
        "1": a fraction of the value that it belongs to.
    shape : {"limit", "triangular", "standard", "expanded", "resolution"}
        limit: rectangular within ± amount; triangular within ± amount; resolution: the full step shown.
    coverage_factor : float, optional
        k of an expanded uncertainty.
    degrees_of_freedom : float, optional
        None: not limited.

    Notes
    -----
    u = a/√3, a/√6, s, U/k and d/√12 (JCGM 100:2008, GUM, 4.3.7, 4.3.9, 4.2.3, 4.3.3 and F.2.2.1).
    """

    amount: OwnUnit
    unit: str
    shape: Shape = "limit"
    coverage_factor: float | None = None
    degrees_of_freedom: float | None = None

    @property
    def relative(self) -> bool:
        """Whether it is a fraction of the value that it belongs to."""
        return self.unit == "1"

    @property
    def standard(self) -> float:
        """Standard uncertainty [``unit``]."""
        if self.shape == "expanded":
            return self.amount / self._stated_factor()
        if self.shape not in _FACTOR:
            words = ", ".join(("expanded", *_FACTOR))
            raise InputRefused.of("shape", self.shape, f"one of {words}", "Say how the uncertainty was stated.")
        return self.amount * _FACTOR[self.shape]

    def _stated_factor(self) -> float:
        """Give k, which nothing may guess."""
        if not self.coverage_factor:
            raise InputRefused.of("k", "missing", "the coverage factor", "An expanded uncertainty needs its k.")
        return self.coverage_factor

    def of(self, value: float) -> float:
        """Give the standard uncertainty of ``value`` itself, in its own unit."""
        return self.standard * abs(value) if self.relative else self.standard
