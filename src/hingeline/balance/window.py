"""The reading window: what the scale shows when the surface is just at a limit."""

from __future__ import annotations

from hingeline.balance import equations
from hingeline.balance.model import MomentLimits, ReadingWindow, Support, Weighing
from hingeline.balance.terms import SupportTerm, hung_terms, part_terms
from hingeline.fields import Shown
from hingeline.units import Typed


def shown_in_own_unit(value: float, support: Support) -> Shown:
    """Give a reading in the unit of the support's first reading; SI where it was not typed."""
    for typed in (*support.readings, *support.rising, support.tare):
        if isinstance(typed, Typed):
            return Shown(typed.in_own_unit(value), typed.unit)
    return Shown(value, support.reading_unit)


def reading_window(weighing: Weighing, supports: tuple[SupportTerm, ...], limits: MomentLimits) -> ReadingWindow | None:
    """Give the gross readings that would be just at each limit; None but for a single support.

    A negative reading means that this support cannot show it: a hook that pulls, or a
    support on the other side of the hinge line, could.
    """
    if len(supports) != 1 or (limits.lower is None and limits.upper is None):
        return None
    (term,) = supports
    others = sum(each.moment for each in (*hung_terms(weighing), *part_terms(weighing)))

    def at(moment: float | None) -> Shown | None:
        if moment is None:
            return None
        gross = equations.reading_at(moment, others, term.reading_moment, term.support.tare)
        return shown_in_own_unit(gross, term.support)

    return ReadingWindow(
        at_lower=at(limits.lower),
        at_upper=at(limits.upper),
        at_guarded_lower=at(limits.guarded_lower),
        at_guarded_upper=at(limits.guarded_upper),
        rises_with_moment=term.reading_moment > 0.0,
    )
