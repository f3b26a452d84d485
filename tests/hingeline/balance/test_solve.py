"""A weighing put together: statement on the limit, what the second route was computed from, what is kept."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import (
    HungMass,
    Limits,
    Part,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    recheck,
    solve,
    weigh,
)
from hingeline.errors import RoutesDisagree
from hingeline.fields import Shown
from hingeline.units import read


def typed(arm: str, reading: str, upper: str) -> Weighing:
    support = Support(read(arm, "length"), readings=(read(reading, "force"),), reading_unit="N")
    return Weighing(Surface("tab"), (support,), limits=Limits(upper=read(upper, "moment")))


def test_on_the_limit_is_inside_where_floats_miss_it() -> None:
    """3 m x 0.1 N is 0.30000000000000004 in floats, just above 0.3: the exact fractions say on the limit, inside."""
    weighing = typed("3 m", "0.1 N", "0.3 N m")
    result = weigh(weighing)
    assert result.static_moment.value > 0.3
    assert (result.statement_simple, result.margin) == ("inside", 0.0)
    assert weigh(typed("3 m", "0.1 N", "0.29999999 N m")).statement_simple == "outside"
    assert weigh(typed("3 m", "0.1 N", "0.30000001 N m")).statement_simple == "inside"


def test_a_statement_that_turns_by_more_than_rounding_is_an_alarm(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the floats' statement and the exact one differ clearly, none is given."""
    monkeypatch.setattr(solve, "simple", lambda *bounds: "outside")
    with pytest.raises(RoutesDisagree, match="two computations of the statement disagree"):
        weigh(typed("3 m", "0.1 N", "0.4 N m"))


@pytest.mark.parametrize(
    ("arm", "reading", "said"),
    [
        (read("255 mm", "length"), read("840 g", "mass"), "from the typed text"),
        (0.255, read("840 g", "mass"), "from typed text and floats"),
        (0.255, 0.840, "from the floats given"),
    ],
)
def test_what_the_second_route_was_computed_from(arm: float, reading: float, said: str) -> None:
    """From typed texts, from a caller's floats, or from both: the result says so."""
    compared = weigh(Weighing(Surface("rudder"), (Support(arm, readings=(reading,)),))).comparison
    assert compared.second_route == said
    assert 0.0 <= compared.largest_difference <= compared.allowed
    assert compared.allowed == pytest.approx(1e-12 * 0.84 * 9.80665 * 0.255, rel=1e-12)


def test_what_is_compared_grows_with_every_term() -> None:
    """Reading, tare, hung mass and part count with their size: (0.9 + 0.1) x 9.8 x 0.5 + 0.98 + 0.98 N m."""
    weighing = Weighing(
        Surface("rudder"),
        (Support(0.5, readings=(0.9,), tare=0.1),),
        (HungMass(0.5, 0.2),),
        (Part("tab", "not fitted", 0.5, 0.2, "forward"),),
        local_gravity=9.8,
    )
    assert float(recheck.recheck(weighing, None, None).sum_of_terms) == pytest.approx(4.9 + 0.98 + 0.98, rel=1e-13)


def test_what_is_kept_of_the_input() -> None:
    """The result shows each support as it was read, in the unit of its first reading, and the force of it."""
    support = Support(
        read("255 mm", "length"), "forward", (read("840 g", "mass"), read("0.85 kg", "mass")), tare=read("40 g", "mass")
    )
    hung = HungMass(0.1, 0.2)
    result = weigh(Weighing(Surface("rudder"), (support,), (hung,), limits=Limits(-9.0, 0.0, source="page 3")))
    (kept,) = result.supports
    assert (kept.side, kept.pushes, kept.scale) == ("forward", "up", None)
    assert kept.readings == (Shown(840.0, "g"), Shown(850.0, "g"))
    assert kept.tare == Shown(40.0, "g")
    assert kept.net == Shown(pytest.approx(805.0, rel=1e-14), "g")  # type: ignore[arg-type]
    assert kept.force == pytest.approx(0.805 * 9.80665, rel=1e-14)
    assert [term.name for term in result.terms] == ["support", "hung mass"]
    assert sum(term.moment for term in result.terms) == pytest.approx(result.static_moment.value, rel=1e-15)
    assert (result.hung, result.limits_source, result.rule) == ((hung,), "page 3", "simple")


def test_the_budget_is_largest_first_and_its_shares_add_up() -> None:
    """Shares of the variance, largest first, together 1; without any cause there is no budget."""
    stated = StatedUncertainty(
        scale=Stated(0.005, "kg", "resolution"), calibration=Stated(0.01, "kg", "standard"), arm=Stated(0.002, "m")
    )
    weighing = Weighing(Surface("rudder"), (Support(0.255, readings=(0.84, 0.85, 0.84)),), uncertainty=stated)
    rows = weigh(weighing).budget
    assert [row.source for row in rows] == ["scale calibration", "arm", "readings", "scale's step"]
    assert [row.contribution for row in rows] == sorted((row.contribution for row in rows), reverse=True)
    assert sum(row.share for row in rows) == pytest.approx(1.0, rel=1e-14)
    single = Weighing(Surface("rudder"), (Support(0.255, readings=(0.84,)),))
    assert weigh(single).budget == ()


def test_the_rule_leads() -> None:
    """The statement is that of the rule which the approved data asks for; both are given."""
    stated = StatedUncertainty(calibration=Stated(0.01, "kg", "standard"))
    weighing = Weighing(
        Surface("rudder"), (Support(0.5, readings=(1.0,)),), uncertainty=stated, limits=Limits(0.0, 4.95)
    )
    simple = weigh(weighing)
    guarded = weigh(replace(weighing, limits=replace(weighing.limits, rule="guarded")))
    assert (simple.statement, guarded.statement) == ("inside", "too close to tell")
    assert simple.statement_guarded == guarded.statement_guarded == "too close to tell"
