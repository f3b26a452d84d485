"""Put a weighing together: terms, uncertainty, limits, statement."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hingeline.balance.causes import causes_of_parts, causes_of_weighing
from hingeline.balance.checks import refuse_impossible_centre, refuse_unusable
from hingeline.balance.decide import (
    Applicable,
    applicable_limits,
    decide_mass,
    decide_moment,
    decide_reading,
    moment_limits,
    overall,
)
from hingeline.balance.friction import friction_moment
from hingeline.balance.measured import centre_of_gravity, combined, measured, scaled
from hingeline.balance.model import (
    Comparison,
    Decision,
    Planning,
    Statement,
    Term,
    WeighedSupport,
    Weighing,
    WeighingResult,
)
from hingeline.balance.notes import CAUTIONS, notes_of
from hingeline.balance.planning import plan_improvement
from hingeline.balance.recheck import ExactWeighing, compare, comparison, recheck, recheck_mass, recheck_reading
from hingeline.balance.terms import SupportTerm, hung_terms, part_terms, support_terms
from hingeline.balance.window import reading_window, shown_in_own_unit
from hingeline.errors import RoutesDisagree
from hingeline.fields import Shown
from hingeline.plain_numbers import plainly
from hingeline.uncertainty import TOO_CLOSE, Budget, Measured, simple
from hingeline.uncertainty import margin as margin_of


@dataclass(frozen=True, slots=True)
class _Found:
    """What the way to a result gathers."""

    weighing: Weighing
    supports: tuple[SupportTerm, ...]
    terms: tuple[Term, ...]
    budget: Budget
    moment: Measured
    centre: Measured | None
    applicable: Applicable
    decisions: tuple[Decision, ...]
    comparison: Comparison


def weigh(weighing: Weighing) -> WeighingResult:
    """Say what is true of a surface after one weighing.

    One equation serves every method: M = Σ (push up) x - Σ m g x, over supports and
    over hung masses, x positive aft of the hinge line, known parts added or taken away.

    Parameters
    ----------
    weighing : Weighing
        SI floats; readings may be lists or arrays. Numbers that remember their typed text are checked against it.

    Returns
    -------
    WeighingResult
        Static moment [N m], tail-heavy positive, with its uncertainty, the budget, and
        the statement by the rule that the approved data asks for.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.
    RoutesDisagree
        Two computations of one number differ: there is no statement.

    Notes
    -----
    Uncertainty after JCGM 100:2008 (GUM) 5.1.2 and G.4.1, decisions after JCGM 106:2012.
    Valid for a surface held level, at rest, free about its hinge line.

    Examples
    --------
    >>> from hingeline.balance import Support, Surface, Weighing, weigh
    >>> support = Support(arm=0.255, readings=(0.840, 0.845, 0.840))
    >>> result = weigh(Weighing(Surface("elevator"), (support,)))
    >>> f"{result.static_moment.value:.3f} N m"
    '2.105 N m'
    """
    weighing = plainly(weighing)
    refuse_unusable(weighing)
    return _result(_find(weighing))


def _find(weighing: Weighing) -> _Found:
    supports = support_terms(weighing)
    revealed = tuple(Term(each.name, each.moment) for each in supports)
    terms = (*revealed, *hung_terms(weighing), *part_terms(weighing))
    causes = [*causes_of_weighing(weighing, supports), *causes_of_parts(weighing)]
    budget = combined(causes, weighing)
    moment = measured(math.fsum(term.moment for term in terms), budget)
    centre = centre_of_gravity(weighing, supports)
    refuse_impossible_centre(weighing, None if centre is None else centre.value)
    applicable = applicable_limits(weighing.limits, weighing.surface.mass)

    exact = recheck(weighing, applicable.lower, applicable.upper)
    largest = compare(exact, moment.value, moment.expanded_uncertainty, applicable.lower, applicable.upper)
    decisions = _decisions(weighing, moment, applicable, supports, exact)
    side_by_side = comparison(weighing, exact, largest)
    return _Found(weighing, supports, terms, budget, moment, centre, applicable, decisions, side_by_side)


def _decisions(
    weighing: Weighing,
    moment: Measured,
    applicable: Applicable,
    supports: tuple[SupportTerm, ...],
    exact: ExactWeighing,
) -> tuple[Decision, ...]:
    of_moment, of_reading = decide_moment(moment, applicable), decide_reading(weighing, moment, supports)
    of_mass = decide_mass(weighing, applicable)
    if of_mass is not None and not applicable.no_band:
        of_mass = _settled(of_mass, recheck_mass(weighing, of_mass.lower, of_mass.upper))
    found = (
        None if of_moment is None else _settled(of_moment, exact),
        None if of_reading is None else _settled(of_reading, recheck_reading(weighing, exact)),
        of_mass,
    )
    return tuple(decision for decision in found if decision is not None)


def _settled(decision: Decision, exact: ExactWeighing) -> Decision:
    """Let the exact fractions say on which side of the limit the value lies.

    On the limit is inside, and a float can miss it by its last digit.
    """
    bounds = exact.moment, exact.lower, exact.upper
    statement, margin = simple(*bounds), margin_of(*bounds)  # type: ignore[arg-type]
    if statement is None or margin is None:  # pragma: no cover -- a decision has a limit, for the type checker
        return decision
    if statement != decision.statement_simple and abs(margin) > exact.allowed:
        raise RoutesDisagree("statement", decision.statement_simple, statement, "nothing")
    return replace(
        decision, statement_simple=statement, margin=float(margin), statement_guarded=_settled_guarded(decision, exact)
    )


def _settled_guarded(decision: Decision, exact: ExactWeighing) -> Statement | None:
    """Let the second way say whether value ± U touches a limit: touching is too close to tell."""
    first = decision.statement_guarded
    if first is None:
        return None
    second = exact.guarded
    if second != first and exact.from_touching > exact.allowed + exact.allowed_expanded:
        raise RoutesDisagree("guarded statement", first, str(second), "nothing")
    return second


def _result(found: _Found) -> WeighingResult:
    weighing, moment, decisions = found.weighing, found.moment, found.decisions
    limits = moment_limits(found.applicable, moment.expanded_uncertainty)
    friction = friction_moment(weighing, found.applicable)
    of_moment = next((each for each in decisions if each.of == "static moment"), None)
    by_simple = overall(tuple(each.statement_simple for each in decisions))
    by_guarded = overall(tuple(each.statement_guarded for each in decisions))
    return WeighingResult(
        surface=weighing.surface,
        supports=tuple(_weighed(term) for term in found.supports),
        hung=weighing.hung,
        parts=weighing.parts,
        local_gravity=weighing.local_gravity,
        terms=found.terms,
        static_moment=moment,
        mass_moment=scaled(moment, 1.0 / weighing.local_gravity),
        friction_moment=friction,
        centre_of_gravity=found.centre,
        budget=found.budget.rows if found.budget.standard_uncertainty else (),
        limits=limits,
        limits_source=weighing.limits.source,
        rule=weighing.limits.rule,
        margin=None if of_moment is None else of_moment.margin,
        probability_within=None if of_moment is None else of_moment.probability_within,
        statement=by_simple if weighing.limits.rule == "simple" else by_guarded,
        statement_simple=by_simple,
        statement_guarded=by_guarded,
        statements=decisions,
        reading_window=reading_window(weighing, found.supports, limits),
        planning=_planning(weighing, found.budget, of_moment),
        comparison=found.comparison,
        notes=notes_of(weighing, moment, limits, found.applicable, decisions, friction),
        cautions=CAUTIONS,
    )


def _planning(weighing: Weighing, budget: Budget, of_moment: Decision | None) -> Planning | None:
    if of_moment is None or of_moment.statement_guarded != TOO_CLOSE or of_moment.margin is None:
        return None
    return plan_improvement(weighing, budget, of_moment.margin)


def _weighed(term: SupportTerm) -> WeighedSupport:
    support = term.support

    def shown(values: tuple[float, ...]) -> tuple[Shown, ...]:
        return tuple(shown_in_own_unit(value, support) for value in values)

    return WeighedSupport(
        side=support.side,
        pushes=support.pushes,
        arm=support.arm,
        readings=shown(support.readings),
        rising=shown(support.rising),
        falling=shown(support.falling),
        tare=shown_in_own_unit(support.tare, support),
        net=shown_in_own_unit(term.net, support),
        force=term.force,
        scale=support.scale,
    )
