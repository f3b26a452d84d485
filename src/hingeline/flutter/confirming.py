"""The second and third way to a neutral point. Only what they confirm is given out."""

from __future__ import annotations

from hingeline.errors import RoutesDisagree
from hingeline.flutter.counting import count_growing
from hingeline.flutter.neutral_points import NeutralPoint
from hingeline.flutter.roots import assumed_root, speed_of_zero_growth
from hingeline.flutter.singular import refine_root
from hingeline.flutter.system import AeroelasticSystem, Wake, merged, scaled

AGREE = 1e-8
ASIDE = 3e-4


def confirm(system: AeroelasticSystem, point: NeutralPoint, wake: Wake) -> None:
    """Find a neutral point of the k-method again by complex roots and by the p-k method.

    Parameters
    ----------
    system : AeroelasticSystem
    point : NeutralPoint
    wake : callable

    Raises
    ------
    RoutesDisagree
        They differ by more than 1e-8 in speed, in frequency, or in the growth there.

    Notes
    -----
    The p-method starts beside the point, where the root grows or dies out and C is read off the imaginary
    axis, and goes to zero growth from there.
    """
    plain, _ = scaled(merged(system))
    root = 1j * point.angular_frequency
    aside = point.speed * (1 - ASIDE)
    beside = refine_root(plain, root + point.drift * (aside - point.speed), aside, wake)
    again = speed_of_zero_growth(plain, beside, wake) if beside is not None else None
    if again is None or abs(again.speed - point.speed) > AGREE * point.speed:
        raise _disagree("flutter speed", point.speed, None if again is None else again.speed)
    if abs(again.p - root) > AGREE * abs(root):
        raise _disagree("flutter frequency", root, again.p)
    assumed = assumed_root(plain, root, point.speed, wake)
    if assumed is None or abs(assumed - root) > AGREE * abs(root):
        raise _disagree("root at the flutter speed", root, assumed)


def confirm_coalescence(system: AeroelasticSystem, point: NeutralPoint, wake: Wake) -> None:
    """Find a coalescence again by counting just below and just above it.

    Raises
    ------
    RoutesDisagree
        The number of growing roots does not change by one there.
    """
    below, above = (count_growing(system, point.speed * factor, wake) for factor in (1 - 1e-6, 1 + 1e-6))
    if above - below != (1 if point.direction == "into" else -1):
        raise _disagree("number of growing roots across the flutter speed", below, above)


def _disagree(quantity: str, first: object, second: object) -> RoutesDisagree:
    return RoutesDisagree(quantity, repr(first), repr(second), f"{AGREE:g} of it")
