"""The second and third way to a neutral point. Only what they confirm is given out."""

from __future__ import annotations

from hingeline.errors import RoutesDisagree
from hingeline.flutter.counting import count_growing
from hingeline.flutter.neutral_points import NeutralPoint
from hingeline.flutter.roots import assumed_root, speed_of_zero_growth
from hingeline.flutter.singular import Singular, refine_root
from hingeline.flutter.system import AeroelasticSystem, Wake, merged, scaled

AGREE = 1e-8
ON_THE_AXIS = 1e-10
ASIDE = (3e-4, 1e-5, 1e-6)


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
    again = _by_complex_roots(plain, point, wake)
    if again is None or abs(again.speed - point.speed) > AGREE * point.speed:
        raise _disagree("flutter speed", point.speed, None if again is None else again.speed)
    if abs(again.p - root) > AGREE * abs(root):
        raise _disagree("flutter frequency", root, again.p)
    assumed = assumed_root(plain, root, point.speed, wake)
    if assumed is None or abs(assumed - root) > AGREE * abs(root):
        raise _disagree("root at the flutter speed", root, assumed)


def _by_complex_roots(system: AeroelasticSystem, point: NeutralPoint, wake: Wake) -> Singular | None:
    """Go from a growing or dying root beside the point to zero growth; nearer by where another point is close.

    Where two points are about to merge the speed of zero growth is badly determined; there the root of the very
    speed, found from a start off the axis, has to be on it.
    """
    root, nearest = 1j * point.angular_frequency, None
    for aside in ASIDE:
        speed = point.speed * (1 - aside)
        beside = refine_root(system, root + point.drift * (speed - point.speed), speed, wake)
        again = speed_of_zero_growth(system, beside, wake) if beside is not None else None
        if again is not None and abs(again.speed - point.speed) <= AGREE * point.speed:
            return again
        nearest = again or nearest
    there = refine_root(system, root * (1 + 1e-4 + 1e-4j), point.speed, wake)
    return there if there is not None and abs(there.p - root) < ON_THE_AXIS * abs(root) else nearest


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
