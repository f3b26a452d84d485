"""Nouns that rooms share: the movable surface and its balance weight."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hingeline.errors import InputRefused
from hingeline.fields import Length, Mass
from hingeline.uncertainty.stated import Stated

Side = Literal["aft", "forward"]


def aft(side: Side) -> int:
    """Give +1 for a place aft of the hinge line and -1 for one forward of it.

    Raises
    ------
    InputRefused
        It is another word: taken for either side, it could turn a sign.
    """
    if side not in ("aft", "forward"):
        raise InputRefused.of("side", side, "aft or forward", "Write one of these words.")
    return 1 if side == "aft" else -1


@dataclass(frozen=True, slots=True)
class BalanceWeight:
    """A balance weight that is fitted, and so already weighed with the surface.

    Parameters
    ----------
    mass : float
        [kg]
    arm : float
        From the hinge line, positive [m].
    side : {"forward", "aft"}
    """

    mass: Mass
    arm: Length
    side: Side = "forward"


@dataclass(frozen=True, slots=True)
class Surface:
    """A movable surface: aileron, elevator, rudder, all-moving tailplane or tab.

    Parameters
    ----------
    name : str
    mass : float, optional
        As weighed [kg]. Gives the centre of gravity.
    mass_uncertainty : Stated, optional
        In kg, or a fraction of the mass.
    hinge_to_trailing_edge : float, optional
        [m]
    vertical_offset : float, optional
        Centre of gravity above (+) the hinge line, surface level [m].
    balance_weights : tuple of BalanceWeight
        For the picture: they are part of the surface and change no number.
    """

    name: str
    mass: Mass | None = None
    mass_uncertainty: Stated | None = None
    hinge_to_trailing_edge: Length | None = None
    vertical_offset: Length | None = None
    balance_weights: tuple[BalanceWeight, ...] = ()
