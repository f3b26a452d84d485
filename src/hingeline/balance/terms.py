"""The terms of the sum: each support, hung mass and part, with its force and its moment."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline.balance import equations
from hingeline.balance.model import Support, Term, Weighing
from hingeline.surface import aft


@dataclass(frozen=True, slots=True)
class SupportTerm:
    """One support, worked out.

    Parameters
    ----------
    support : Support
    name : str
        "support", or "support 2" where there are several.
    shown : float
        Mean of the readings, or the middle of the rising and falling means [reading's unit].
    net : float
        ``shown`` less the tare.
    x : float
        [m, aft positive]
    force : float
        Upward [N].
    reading_moment : float
        Moment of one unit of net reading [N m a unit].
    """

    support: Support
    name: str
    shown: float
    net: float
    x: float
    force: float
    reading_moment: float

    @property
    def moment(self) -> float:
        """Static moment that the support reveals [N m, tail-heavy positive]."""
        return equations.support_moment(self.force, self.x)


def support_terms(weighing: Weighing) -> tuple[SupportTerm, ...]:
    """Work out every support."""
    return tuple(
        _support_term(support, _name("support", index, len(weighing.supports)), weighing.local_gravity)
        for index, support in enumerate(weighing.supports)
    )


def _support_term(support: Support, name: str, local_gravity: float) -> SupportTerm:
    shown = shown_reading(support)
    net = equations.net_reading(shown, support.tare)
    per_reading = force_per_reading(support, local_gravity)
    pulls = support.pushes == "down"
    x = aft(support.side) * support.arm
    return SupportTerm(
        support=support,
        name=name,
        shown=shown,
        net=net,
        x=x,
        force=equations.push_up(net, per_reading, pulls=pulls),
        reading_moment=equations.push_up(1.0, per_reading, pulls=pulls) * x,
    )


def shown_reading(support: Support) -> float:
    """Give the mean of the readings; across friction, the middle of the two means."""
    if support.readings:
        return equations.mean(support.readings)
    return (equations.mean(support.rising) + equations.mean(support.falling)) / 2.0


def force_per_reading(support: Support, local_gravity: float) -> float:
    """Give the force that one unit of reading stands for: local gravity for a mass, 1 for a force."""
    return local_gravity if support.reading_unit == "kg" else 1.0


def hung_terms(weighing: Weighing) -> tuple[Term, ...]:
    """Work out every hung mass."""
    count = len(weighing.hung)
    return tuple(
        Term(
            _name("hung mass", index, count),
            equations.hung_moment(hung.mass, aft(hung.side) * hung.arm, weighing.local_gravity),
        )
        for index, hung in enumerate(weighing.hung)
    )


def part_terms(weighing: Weighing) -> tuple[Term, ...]:
    """Work out every part: added where it was not fitted, taken away where it must not count."""
    return tuple(
        Term(
            f"{part.name}, {part.state}",
            (1.0 if part.state == "not fitted" else -1.0)
            * equations.part_moment(part.mass, aft(part.side) * part.arm, weighing.local_gravity),
        )
        for part in weighing.parts
    )


def _name(kind: str, index: int, count: int) -> str:
    return kind if count == 1 else f"{kind} {index + 1}"
