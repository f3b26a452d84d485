"""Intervals stated at 95 % cover the truth in 94 to 96 % of simulated weighings.

A true surface with a known moment is weighed again and again as a workshop would:
each time the scale, the arm, the friction and the air have errors drawn from just
the distributions that are stated, readings scatter, and the display rounds. Counted
is how often y ± U holds the true moment. The seed is the same for every scenario and
was not chosen; over 10,000 weighings the count itself scatters by 0.2 %, over 2,500 by 0.4 %: what is
asked of 10,000 in a campaign is asked of 2,500 in every check, with two of its own scatters more at either end and
two of that of 10,000 less. That still tells Student's k from the normal one (five readings: 88 %), a cause that is
left out or counted twice, and k = 2 for 95 % where few readings lead.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

import pytest

from hingeline.balance import Stated, StatedUncertainty, Support, Surface, Weighing, weigh

if TYPE_CHECKING:
    import numpy as np

GRAVITY = 9.80665
TRUE_MOMENT = 2.105
SEED = 1
MANY, SOME, FEW = 10_000, 2_500, 1_000
HOW_MANY = [SOME, pytest.param(MANY, marks=pytest.mark.campaign)]


@dataclass(frozen=True)
class Scenario:
    """How a surface is weighed, and how wrong everything may be.

    Parameters
    ----------
    readings : int
        At each support.
    scatter : float
        Standard deviation of one reading [kg].
    step : float
        Of the display [kg].
    uncertainty : StatedUncertainty
        As stated, and as drawn.
    arms : tuple of float
        Of each support, as written down [m]; each carries the same part of the moment.
    """

    readings: int
    scatter: float
    step: float
    uncertainty: StatedUncertainty
    arms: tuple[float, ...] = (0.255,)


def drawn(stated: Stated | None, rng: np.random.Generator) -> float:
    """One error out of the distribution that is stated."""
    if stated is None:
        return 0.0
    if stated.shape == "limit":
        return float(rng.uniform(-stated.amount, stated.amount))
    if stated.shape == "triangular":
        return float(rng.triangular(-stated.amount, 0.0, stated.amount))
    return float(rng.normal(0.0, stated.standard))


def simulated(scenario: Scenario, rng: np.random.Generator) -> Weighing:
    """Weigh the true surface once: what the engineer writes down."""
    stated = scenario.uncertainty
    shared = drawn(stated.calibration, rng)

    def support(arm: float) -> Support:
        carried = TRUE_MOMENT / len(scenario.arms) / (arm + drawn(stated.arm, rng)) / GRAVITY
        offset = shared + drawn(stated.friction, rng) + drawn(stated.air, rng)
        shown = carried + offset + rng.normal(0.0, scenario.scatter, scenario.readings)
        rounded = tuple(max(0.0, round(float(each) / scenario.step) * scenario.step) for each in shown)
        return Support(arm=arm, readings=rounded)

    return Weighing(Surface("elevator"), tuple(support(arm) for arm in scenario.arms), uncertainty=stated)


def covered(scenario: Scenario, weighings: int) -> float:
    """How often y ± U holds the true moment."""
    import numpy as np

    rng, inside = np.random.default_rng(SEED), 0
    for _ in range(weighings):
        moment = weigh(simulated(scenario, rng)).static_moment
        if moment.expanded_uncertainty is not None:
            inside += abs(moment.value - TRUE_MOMENT) <= moment.expanded_uncertainty
    return inside / weighings


def grams(size: float, shape: str = "limit", k: float | None = None) -> Stated:
    """What is stated of a reading, in grams."""
    return Stated(size / 1000.0, "kg", shape, k)  # type: ignore[arg-type]


USUAL = StatedUncertainty(
    scale=grams(1.0, "resolution"),
    calibration=grams(10.0, "expanded", 2.0),
    arm=Stated(0.002, "m"),
    friction=grams(5.0, "triangular"),
    air=grams(2.0),
)
SCENARIOS = {
    "scatter leads, three readings": Scenario(3, 0.010, 0.001, StatedUncertainty(scale=grams(1.0, "resolution"))),
    "scatter leads, five readings": Scenario(5, 0.010, 0.001, StatedUncertainty(scale=grams(1.0, "resolution"))),
    "scatter leads, five readings, small causes beside it": Scenario(5, 0.040, 0.001, USUAL),
    "mixed causes, five readings": Scenario(5, 0.008, 0.001, USUAL),
    "two supports on one scale": Scenario(4, 0.004, 0.001, USUAL, (0.255, 0.140)),
    "calibration leads": Scenario(5, 0.002, 0.001, StatedUncertainty(calibration=grams(10.0, "expanded", 2.0))),
}
# The dearest, of which another of the check is of the same kind.
IN_THE_CAMPAIGN = ("scatter leads, three readings", "scatter leads, five readings, small causes beside it")
CASES = [pytest.param(name, marks=pytest.mark.campaign) if name in IN_THE_CAMPAIGN else name for name in SCENARIOS]
# What was found, and is kept in sight: see the test below.
UNDER_COVERED = {
    "scatter leads, three readings, small causes beside it": (Scenario(3, 0.030, 0.001, USUAL), 0.92, 0.94),
    "scatter leads, two readings, small causes beside it": (Scenario(2, 0.030, 0.001, USUAL), 0.87, 0.91),
}
OVER_COVERED = {
    "a limit of the arm leads": Scenario(5, 0.002, 0.001, StatedUncertainty(arm=Stated(0.006, "m"))),
    "a limit of friction leads": Scenario(5, 0.002, 0.001, StatedUncertainty(friction=grams(20.0))),
}


def spare(share: float, weighings: int) -> float:
    """How much further from a share the count of so many lies than that of 10,000, at two standard deviations."""
    return 2.0 * sqrt(share * (1.0 - share)) * (1.0 / sqrt(weighings) - 1.0 / sqrt(MANY))


def said(name: str, share: float, weighings: int) -> str:
    """Say what was found, for whoever reads the report or a failure."""
    return f"{name}: {100.0 * share:.2f} % of {weighings} intervals stated at 95 % hold the true moment"


@pytest.mark.slow
@pytest.mark.parametrize("weighings", HOW_MANY)
@pytest.mark.parametrize("name", CASES)
def test_stated_intervals_cover_what_they_say(
    name: str, weighings: int, record_property: Callable[[str, object], None]
) -> None:
    """Where scatter or normal errors lead, or several causes mix: 94 to 96 % over 10,000 weighings."""
    share, more = covered(SCENARIOS[name], weighings), spare(0.95, weighings)
    record_property("coverage", said(name, share, weighings))
    print(said(name, share, weighings))
    assert 0.94 - more <= share <= 0.96 + more, said(name, share, weighings)


@pytest.mark.slow
@pytest.mark.parametrize("weighings", HOW_MANY)
@pytest.mark.parametrize("name", UNDER_COVERED)
def test_few_readings_beside_other_causes_cover_less(
    name: str, weighings: int, record_property: Callable[[str, object], None]
) -> None:
    """With two or three readings whose scatter leads beside other causes, 95 % is not reached: a limit of GUM G.4.

    Where the few readings happen to lie close together, Welch and Satterthwaite count many degrees of freedom
    and k comes out too small. A simulation of one normal cause beside n readings, apart from this program, found
    at the worst 88 % for two readings, 92.7 % for three, 93.8 % for four and 94.3 % for five: so five readings
    keep what they state. (Scatter alone keeps it with any number.)
    """
    scenario, least, most = UNDER_COVERED[name]
    share, more = covered(scenario, weighings), spare(least, weighings)
    record_property("coverage", said(name, share, weighings))
    print(said(name, share, weighings))
    assert least - more <= share <= most + more, said(name, share, weighings)


@pytest.mark.slow
@pytest.mark.parametrize("weighings", HOW_MANY)
@pytest.mark.parametrize("name", OVER_COVERED)
def test_a_single_rectangle_makes_the_interval_too_wide(
    name: str, weighings: int, record_property: Callable[[str, object], None]
) -> None:
    """Where one known limit leads, k = 1.96 is more than the rectangle needs, and the interval covers more.

    U = 1.96 a/√3 = 1.13 a lies beyond the limit a itself: it covers all. That is the safe side; a Monte
    Carlo run gives the narrower interval.
    """
    share = covered(OVER_COVERED[name], weighings)
    record_property("coverage", said(name, share, weighings))
    print(said(name, share, weighings))
    assert share >= 0.95, said(name, share, weighings)
    assert share > 0.97, f"no longer a case of its own: {said(name, share, weighings)}"


@pytest.mark.slow
def test_a_few_intervals_cover_what_they_say() -> None:
    """The quick look: mixed causes over 1,000 weighings, where the count scatters by 0.7 %: 92.5 to 97.5 %."""
    name = "mixed causes, five readings"
    share = covered(SCENARIOS[name], FEW)
    assert 0.925 <= share <= 0.975, said(name, share, FEW)
