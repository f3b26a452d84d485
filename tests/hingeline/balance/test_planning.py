"""What would settle a weighing: the advice is followed, and the weighing is settled."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hingeline.balance import (
    HungMass,
    Limits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    WeighingResult,
    weigh,
)
from hingeline.balance.planning import MOST_READINGS
from hingeline.uncertainty import TOO_CLOSE, type_a

MEAN, ARM, GRAVITY = 1.0, 0.5, 9.8


def readings_like(count: int, mean: float, scatter: float) -> tuple[float, ...]:
    """So many readings with just this mean and this standard deviation."""
    pattern = [(-1.0) ** number for number in range(count - count % 2)] + [0.0] * (count % 2)
    spread = math.sqrt(sum(each * each for each in pattern) / (count - 1))
    return tuple(mean + each * scatter / spread for each in pattern)


def weighed(
    count: int, scatter: float, stated: StatedUncertainty, margin: float, rule: str = "guarded"
) -> tuple[Weighing, WeighingResult]:
    """Weigh 4.9 N m with the upper limit so far above it."""
    support = Support(ARM, readings=readings_like(count, MEAN, scatter))
    limits = Limits(upper=MEAN * ARM * GRAVITY + margin, rule=rule)  # type: ignore[arg-type]
    weighing = Weighing(Surface("rudder"), (support,), uncertainty=stated, limits=limits, local_gravity=GRAVITY)
    return weighing, weigh(weighing)


def with_readings(weighing: Weighing, count: int, scatter: float) -> Weighing:
    (support,) = weighing.supports
    return replace(weighing, supports=(replace(support, readings=readings_like(count, MEAN, scatter)),))


def test_readings_like() -> None:
    """The readings made here have the mean and the scatter that was asked for."""
    for count in (2, 3, 4, 7, 10):
        found = type_a(readings_like(count, 1.0, 0.01))
        assert found.value == pytest.approx(1.0, rel=1e-15)
        assert found.standard_uncertainty == pytest.approx(0.01 / math.sqrt(count), rel=1e-12)


def test_three_more_readings_by_hand() -> None:
    """With s = 10 g, 4.9 N m a kilogram, a margin of 0.06 N m = 12.245 g.

    t s/√n with t from GUM table G.2: n = 3 24.84 g, 4 15.91 g, 5 12.42 g, 6 10.49 g: three more are needed.
    """
    _, result = weighed(3, 0.010, StatedUncertainty(), 0.06)
    assert result.statement == TOO_CLOSE
    assert result.planning is not None
    assert result.planning.more_readings == 3
    assert result.planning.needed_expanded_uncertainty == pytest.approx(0.06, rel=1e-12)
    assert result.planning.advice == "This would settle it, if the mean stays: 3 more readings like these."


def test_one_more_reading_is_told_as_one() -> None:
    """Five readings with s = 10 g: t s/√n is 12.42 g, with a sixth 10.49 g: between them one more is enough."""
    _, result = weighed(5, 0.010, StatedUncertainty(), 0.012 * ARM * GRAVITY)
    assert result.planning is not None
    assert result.planning.advice == "This would settle it, if the mean stays: 1 more reading like these."


def test_the_support_with_the_fewest_readings_says_how_many_more_there_may_be() -> None:
    """Beside the three readings by hand a support that was read a hundred times, all alike: three more settle it."""
    weighing, _ = weighed(3, 0.010, StatedUncertainty(), 0.06)
    often = Support(ARM, readings=(MEAN,) * MOST_READINGS)
    limits = Limits(upper=2.0 * MEAN * ARM * GRAVITY + 0.06, rule="guarded")
    result = weigh(replace(weighing, supports=(*weighing.supports, often), limits=limits))
    assert result.planning is not None
    assert result.planning.more_readings == 3


CAUSES = st.fixed_dictionaries(
    {
        "calibration": st.none() | st.builds(Stated, st.floats(0.001, 0.02), st.just("kg"), st.just("standard")),
        "arm": st.none() | st.builds(Stated, st.floats(0.0005, 0.005), st.just("m"), st.just("limit")),
        "air": st.none() | st.builds(Stated, st.floats(0.001, 0.02), st.just("kg"), st.just("triangular")),
        "k": st.sampled_from([None, None, 2.0]),
    }
)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(st.integers(2, 8), st.floats(0.001, 0.03), CAUSES, st.floats(0.4, 0.999))
def test_the_advised_readings_settle_it(count: int, scatter: float, causes: dict, part: float) -> None:
    """So many more readings with the same mean and scatter settle it, and one fewer does not, or only by rounding.

    At a tie, such as 25 readings for 0.4 of the U of four, the advice keeps a billionth in hand.
    """
    stated = StatedUncertainty(**causes)
    _, first = weighed(count, scatter, stated, 1.0)
    weighing, result = weighed(count, scatter, stated, part * (first.static_moment.expanded_uncertainty or 0.0))
    assert result.statement == TOO_CLOSE
    assert result.planning is not None
    more = result.planning.more_readings
    if more is None:
        assert weigh(with_readings(weighing, MOST_READINGS, scatter)).statement == TOO_CLOSE
        return
    assert 1 <= more <= MOST_READINGS - count
    assert weigh(with_readings(weighing, count + more, scatter)).statement == "inside"
    if more > 1:
        fewer = weigh(with_readings(weighing, count + more - 1, scatter))
        in_hand = (fewer.margin or 0.0) - (fewer.static_moment.expanded_uncertainty or 0.0)
        assert fewer.statement == TOO_CLOSE or in_hand < 2e-9 * result.planning.needed_expanded_uncertainty


def test_a_tie_is_advised_with_a_billionth_in_hand() -> None:
    """Four readings, k = 2, 0.4 of their U: 21 more would do exactly; rounding decides between 21 and 22."""
    _, first = weighed(4, 0.001, StatedUncertainty(k=2.0), 1.0)
    _, result = weighed(4, 0.001, StatedUncertainty(k=2.0), 0.4 * (first.static_moment.expanded_uncertainty or 0.0))
    assert result.planning is not None
    assert result.planning.more_readings in (21, 22)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(st.integers(2, 8), st.floats(0.0005, 0.01), CAUSES, st.floats(0.3, 0.999))
def test_the_needed_size_settles_it(count: int, scatter: float, causes: dict, part: float) -> None:
    """Each cause alone, made as small as advised, settles it; where none is advised, even nothing does not."""
    assume(any(isinstance(each, Stated) for each in causes.values()))
    stated = StatedUncertainty(**causes)
    _, first = weighed(count, scatter, stated, 1.0)
    weighing, result = weighed(count, scatter, stated, part * (first.static_moment.expanded_uncertainty or 0.0))
    assert result.planning is not None
    names = {"scale calibration": "calibration", "arm": "arm", "air currents": "air"}
    for improvement in result.planning.improvements:
        if improvement.source not in names:
            continue
        name, unit = names[improvement.source], improvement.unit
        smaller = Stated(improvement.needed or 0.0, unit, "standard")
        improved = replace(weighing, uncertainty=replace(stated, **{name: smaller}))
        settled = weigh(improved).statement
        assert settled == (TOO_CLOSE if improvement.needed is None else "inside")
        assert (improvement.needed or 0.0) <= improvement.standard_uncertainty


def test_the_needed_size_is_the_largest_that_settles_it() -> None:
    """With k = 2, u = 3 and 4 g: U = 10 g; 9 g are left, so the larger must come to √(4.5² - 3²) = 3.3541 g."""
    stated = StatedUncertainty(calibration=Stated(0.004, "kg", "standard"), air=Stated(0.003, "kg", "standard"), k=2.0)
    weighing, _ = weighed(2, 0.0, stated, 0.009 * ARM * GRAVITY)
    result = weigh(replace(weighing, supports=(replace(weighing.supports[0], readings=(MEAN,)),)))
    assert result.planning is not None
    needed = {each.source: each.needed for each in result.planning.improvements}
    assert needed["scale calibration"] == pytest.approx(0.0033541, rel=1e-4)
    by_hand = math.sqrt(0.0045**2 - 0.004**2)
    assert needed["air currents"] == pytest.approx(by_hand, rel=1e-8)
    assert needed["air currents"] < by_hand  # a billionth of U is kept in hand, so that rounding cannot undo the advice
    assert result.planning.more_readings is None
    assert result.planning.advice == (
        "Any one of these would settle it, if the mean stays: less uncertainty from the scale calibration; "
        "less uncertainty from the air currents."
    )


def test_more_readings_are_advised_only_beside_two_or_more() -> None:
    """One reading with a stated repeatability, and a hung mass without any reading: what scatters is not known."""
    stated = StatedUncertainty(repeatability=Stated(0.010, "kg", "standard"), k=2.0)
    limits = Limits(upper=MEAN * ARM * GRAVITY + 0.05)
    once = Weighing(Surface("rudder"), (Support(ARM, readings=(MEAN,)),), uncertainty=stated, limits=limits,
                    local_gravity=GRAVITY)  # fmt: skip
    hung = HungMass(MEAN, ARM, mass_uncertainty=Stated(0.010, "kg", "standard"))
    for weighing in (once, replace(once, supports=(), hung=(hung,))):
        result = weigh(weighing)
        assert result.statement_guarded == TOO_CLOSE
        assert result.planning is not None
        assert result.planning.more_readings is None


def test_nothing_alone_settles_it() -> None:
    """Two equal causes, and a margin smaller than what either leaves: improve both, or correct the balance."""
    stated = StatedUncertainty(calibration=Stated(0.010, "kg", "standard"), air=Stated(0.010, "kg", "standard"), k=2.0)
    _, result = weighed(2, 0.0, stated, 0.019 * ARM * GRAVITY)
    assert result.planning is not None
    assert result.planning.more_readings is None
    assert [each.needed for each in result.planning.improvements if each.source != "readings"] == [None, None]
    assert result.planning.advice == (
        "No single change settles it: improve the largest causes together, or correct the balance."
    )


@pytest.mark.parametrize("margin", [0.0, 0.5, -0.5])
def test_what_needs_no_planning(margin: float) -> None:
    """On the limit nothing settles it; clearly inside or outside nothing has to."""
    weighing, _ = weighed(3, 0.010, StatedUncertainty(), margin)
    limits = Limits(upper=weigh(weighing).static_moment.value + margin)
    result = weigh(replace(weighing, limits=limits))
    assert result.planning is None
    assert (result.statement_guarded == TOO_CLOSE) == (margin == 0.0)


def test_a_weighing_just_outside_is_planned_too() -> None:
    """0.06 N m beyond the limit: three more readings would show that it is outside."""
    weighing, result = weighed(3, 0.010, StatedUncertainty(), -0.06)
    assert (result.statement_simple, result.statement_guarded) == ("outside", TOO_CLOSE)
    assert result.planning is not None
    assert result.planning.more_readings == 3
    assert weigh(with_readings(weighing, 6, 0.010)).statement == "outside"
