"""Before the surface is touched: what the scale may show, and what U to expect."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hingeline.balance import equations
from hingeline.balance.causes import causes_of_parts, causes_of_weighing
from hingeline.balance.checks import refuse_unusable
from hingeline.balance.decide import Applicable, applicable_limits
from hingeline.balance.measured import combined
from hingeline.balance.model import MomentLimits, ReadingWindow, Support, Weighing, WeighingPlan
from hingeline.balance.notes import CAUTIONS
from hingeline.balance.terms import hung_terms, part_terms, support_terms
from hingeline.balance.window import reading_window
from hingeline.errors import InputRefused
from hingeline.plain_numbers import plainly
from hingeline.uncertainty import Budget

SCATTER_LACKING = "Estimate: the scatter of the readings is not in it. Only the weighing decides."
SCATTER_STATED = (
    "Estimate: the scatter is in it as it was stated, that of a single reading; the readings will have their own. "
    "Only the weighing decides."
)


def plan_weighing(weighing: Weighing) -> WeighingPlan:
    """Work out the reading window before the work, from the limits and the stated uncertainties.

    Parameters
    ----------
    weighing : Weighing
        With exactly one support, whose readings are not used, and moment limits.

    Returns
    -------
    WeighingPlan
        The gross readings at each limit, simple and guarded. The guarded ones use the U
        expected at that limit, without the scatter of readings not yet taken unless a
        repeatability is stated: an estimate.

    Raises
    ------
    InputRefused
        There is not one support, no moment limit, or none for a surface of this mass.

    Examples
    --------
    >>> from hingeline.balance import Limits, Stated, StatedUncertainty, Support, Surface, Weighing, plan_weighing
    >>> causes, limits = StatedUncertainty(arm=Stated(0.002, "m")), Limits(0.0, 2.10, source="data sheet 7")
    >>> plan = plan_weighing(Weighing(Surface("elevator"), (Support(arm=0.255),), uncertainty=causes, limits=limits))
    >>> window = plan.reading_window
    >>> f"{window.at_upper.value:.3f} kg, guarded {window.at_guarded_upper.value:.3f} kg"
    '0.840 kg, guarded 0.832 kg'
    """
    weighing = plainly(weighing)
    refuse_unusable(weighing, before=True)
    applicable = applicable_limits(weighing.limits, weighing.surface.mass)
    _refuse_unplannable(weighing, applicable)
    budgets = {bound: _budget_at(weighing, bound) for bound in (applicable.lower, applicable.upper)}
    limits = _drawn_in(applicable, budgets)
    window = reading_window(weighing, support_terms(_reading_at(weighing, 0.0)), limits)
    widest = max(budgets.values(), key=lambda budget: budget.expanded_uncertainty)
    return WeighingPlan(
        surface=weighing.surface,
        limits=limits,
        limits_source=weighing.limits.source,
        rule=weighing.limits.rule,
        reading_window=window or ReadingWindow(None, None, None, None),
        expected_expanded_uncertainty=widest.expanded_uncertainty or None,
        budget=widest.rows if widest.standard_uncertainty else (),
        notes=(*_notes(weighing, limits, window), *applicable.notes),
        cautions=CAUTIONS,
    )


def _refuse_unplannable(weighing: Weighing, applicable: Applicable) -> None:
    if len(weighing.supports) != 1:
        shown = f"{len(weighing.supports)} supports"
        raise InputRefused.of("support", shown, "one support", "A reading window holds for a single support.")
    if applicable.no_band:
        mass = weighing.surface.mass
        remedy = f"{applicable.notes[0]} Check the number and its unit."
        raise InputRefused.of("surface.mass", getattr(mass, "text", mass), "a mass within one band", remedy)
    if applicable.lower is None and applicable.upper is None:
        raise InputRefused.of("limits", "none", "a lower or an upper moment limit", "Give the approved limits.")


def _reading_at(weighing: Weighing, moment: float) -> Weighing:
    """Give the weighing as it would be if the surface were just at this moment."""
    (support,) = weighing.supports
    bare = replace(support, readings=(1.0 + support.tare,), rising=(), falling=())
    (term,) = support_terms(replace(weighing, supports=(bare,)))
    others = sum(each.moment for each in (*hung_terms(weighing), *part_terms(weighing)))
    gross = equations.reading_at(moment, others, term.reading_moment, support.tare)
    return replace(weighing, supports=(_read(support, gross),))


def _read(support: Support, gross: float) -> Support:
    return replace(support, readings=(gross,), rising=(), falling=())


def _budget_at(weighing: Weighing, bound: float | None) -> Budget:
    if bound is None:
        return combined([], weighing)
    at = _reading_at(weighing, bound)
    return combined([*causes_of_weighing(at, support_terms(at)), *causes_of_parts(at)], at)


def _drawn_in(applicable: Applicable, budgets: dict[float | None, Budget]) -> MomentLimits:
    lower, upper = applicable.lower, applicable.upper
    at_lower, at_upper = (budgets[bound].expanded_uncertainty for bound in (lower, upper))
    return MomentLimits(
        lower,
        upper,
        None if lower is None or not at_lower else lower + at_lower,
        None if upper is None or not at_upper else upper - at_upper,
    )


def _notes(weighing: Weighing, limits: MomentLimits, window: ReadingWindow | None) -> Iterator[str]:
    yield SCATTER_STATED if weighing.uncertainty.repeatability is not None else SCATTER_LACKING
    if limits.guarded_lower is None and limits.guarded_upper is None:
        yield "No uncertainty is stated, so no guarded window can be given."
    low, high = limits.guarded_lower, limits.guarded_upper
    if low is not None and high is not None and low >= high:
        yield "The guarded window is empty: weighed like this, the surface cannot be shown to be inside."
    shown = [] if window is None else [window.at_lower, window.at_upper]
    if any(each is not None and each.value < 0.0 for each in shown):
        yield (
            "A negative reading cannot be shown by this support: use a hook that pulls, or a support on the "
            "other side of the hinge line."
        )
    if not weighing.limits.source:
        yield "No source is given for the limits: name document, page and issue."
