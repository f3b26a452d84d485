"""The approved limits of a surface, as they are given."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hingeline.fields import Mass, Moment, OwnUnit

Rule = Literal["simple", "guarded"]


@dataclass(frozen=True, slots=True)
class MomentBand:
    """Moment limits that hold for surfaces of a certain mass.

    Parameters
    ----------
    lightest, heaviest : float
        Masses between which they hold, both included [kg].
    lower, upper : float, optional
        Static moment, tail-heavy positive [N m].
    """

    lightest: Mass
    heaviest: Mass
    lower: Moment | None = None
    upper: Moment | None = None


@dataclass(frozen=True, slots=True)
class MassLimits:
    """Limits of the surface's own mass.

    Parameters
    ----------
    lower, upper : float, optional
        [kg]
    """

    lower: Mass | None = None
    upper: Mass | None = None


@dataclass(frozen=True, slots=True)
class ReadingLimits:
    """Limits of the reading at the document's own point.

    Parameters
    ----------
    lower, upper : float, optional
        Positive where the surface is tail-heavy [``unit``].
    unit : {"kg", "N"}
    """

    lower: OwnUnit | None = None
    upper: OwnUnit | None = None
    unit: Literal["kg", "N"] = "kg"


@dataclass(frozen=True, slots=True)
class Limits:
    """The approved limits.

    Parameters
    ----------
    lower, upper : float, optional
        Static moment, tail-heavy positive [N m]. Either may be missing.
    rule : {"simple", "guarded"}
        What the approved data asks for. Both are worked out.
    friction_fraction : float, optional
        Friction moment allowed, as a part of the larger limit.
    source : str
        Document, page, revision.
    bands : tuple of MomentBand
        Instead of ``lower`` and ``upper``, where they step with the surface's mass.
    mass : MassLimits, optional
    reading : ReadingLimits, optional
    """

    lower: Moment | None = None
    upper: Moment | None = None
    rule: Rule = "simple"
    friction_fraction: float | None = None
    source: str = ""
    bands: tuple[MomentBand, ...] = ()
    mass: MassLimits | None = None
    reading: ReadingLimits | None = None
