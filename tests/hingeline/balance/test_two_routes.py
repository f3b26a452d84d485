"""The two routes beside each other: by how much they may differ, and what happens where they do."""

from __future__ import annotations

import importlib
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

import hingeline.balance
from hingeline.balance import (
    HungMass,
    Limits,
    MassLimits,
    ReadingLimits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    weigh,
)
from hingeline.balance.recheck import ExactWeighing, compare, recheck
from hingeline.errors import RoutesDisagree
from hingeline.units import Typed, read

ONE = Weighing(Surface("rudder"), (Support(0.5, readings=(2.0,)),), local_gravity=9.8)
TEN = ExactWeighing(Fraction(10), Fraction(10), Fraction(-4), Fraction(8), None)
PART = 1e-12


def compared(moment: float, lower: float | None = -4.0, upper: float | None = 8.0) -> float:
    return float(compare(TEN, moment, None, lower, upper))


def test_a_millionth_of_a_millionth_of_the_sum_is_rounding() -> None:
    """Of terms that come to 10 N m in all, 1e-11 N m; of a limit as much of itself."""
    assert compared(10.0) == 0.0
    assert compared(10.0 + 0.9e-11) == pytest.approx(0.9e-11, rel=1e-3)
    assert compared(10.0, lower=-4.0 * (1 + 0.9 * PART)) == pytest.approx(3.6e-12, rel=1e-3)
    for spoiled in ((10.0 + 1.1e-11,), (10.0 - 1.1e-11,), (10.0, -4.0 * (1 + 1.1 * PART)), (10.0, -4.0, 8.0 + 9e-12)):
        with pytest.raises(RoutesDisagree):
            compared(*spoiled)


@pytest.mark.parametrize("expanded", [None, 0.3])
def test_what_only_one_route_has_is_a_disagreement(expanded: float | None) -> None:
    """A limit, or an expanded uncertainty, that the other route does not know."""
    for lower, upper in ((None, 8.0), (-4.0, None)):
        with pytest.raises(RoutesDisagree):
            compared(10.0, lower, upper)
    found = recheck(ONE, None, None)
    if expanded is None:
        assert compare(found, 9.8, expanded, None, None) < PART * 10
    else:
        with pytest.raises(RoutesDisagree, match="expanded uncertainty"):
            compare(found, 9.8, expanded, None, None)


def test_a_text_that_the_second_reader_does_not_know_is_a_disagreement() -> None:
    unknown = Typed(0.5, text="1 cubit", number="1", unit="m", dimension="length")
    with pytest.raises(RoutesDisagree, match="'cubit' as a length"):
        weigh(replace(ONE, supports=(Support(unknown, readings=(2.0,)),)))


def test_an_expanded_uncertainty_without_its_factor_is_a_disagreement() -> None:
    """No weighing that is not refused has one: asked of the second route alone, it guesses nothing."""
    without = StatedUncertainty(scale=Stated(0.01, "kg", "expanded"))
    with pytest.raises(RoutesDisagree, match="without its coverage factor"):
        recheck(replace(ONE, uncertainty=without), None, None)


def test_gravity_acts_on_what_was_weighed_as_a_mass_alone() -> None:
    """Readings in newtons do not change with gravity: of u(g) = 0.05 m/s² the hung 0.3 kg at 0.4 m takes 0.006 N m."""
    newtons = Support(0.5, readings=(10.0,), tare=2.0, reading_unit="N")
    stated = StatedUncertainty(gravity=Stated(0.05, "m/s^2", "standard"), k=2.0)
    hung = (HungMass(0.3, 0.4),)
    found = weigh(Weighing(Surface("rudder"), (newtons,), hung=hung, uncertainty=stated, local_gravity=9.8))
    assert found.static_moment.standard_uncertainty == pytest.approx(0.05 * 0.3 * 0.4, rel=1e-12)


def test_on_the_limit_the_fractions_decide() -> None:
    """0.7 kg at 0.3 m and 9.8 m/s²: 2.058 N m, whatever the last bit of the product of floats is."""
    support = Support(read("0.3 m", "length"), readings=(read("0.7 kg", "mass"),))
    on = Limits(upper=read("2.058 N m", "moment"))
    found = weigh(Weighing(Surface("rudder"), (support,), limits=on, local_gravity=read("9.8 m/s^2", "acceleration")))
    assert (found.statement_simple, found.margin) == ("inside", 0.0)


TOUCHING = [
    (arm, mass, half, limit)
    for arm in ("0.3 m", "0.255 m", "0.110 m")
    for mass, half in (("0.7 kg", "0.1 kg"), ("0.840 kg", "0.005 kg"), ("1.1 kg", "0.3 kg"), ("0.49 kg", "0.07 kg"))
    for limit in ("upper", "lower", "beyond upper", "beyond lower")
]


def _touching(arm: str, mass: str, half: str) -> tuple[Weighing, str, str]:
    """A weighing whose U is half times arm times gravity to the last digit, and moment ± U as they are typed."""
    support = Support(read(arm, "length"), readings=(read(mass, "mass"),))
    stated = StatedUncertainty(calibration=Stated(read(half, "mass"), "kg", "expanded", 2.0), k=2.0)
    one = Weighing(
        Surface("rudder"), (support,), uncertainty=stated, local_gravity=read("9.80665 m/s^2", "acceleration")
    )
    lever, middle, wide = (Fraction(text.split()[0]) for text in (arm, mass, half))
    ends = (Fraction("9.80665") * lever * (middle + sign * wide) for sign in (-1, 1))
    low, high = (f"{Decimal(end.numerator) / Decimal(end.denominator)} N m" for end in ends)
    return one, low, high


@pytest.mark.parametrize(("arm", "mass", "half", "limit"), TOUCHING)
def test_an_interval_that_touches_its_limit_is_too_close_to_tell(arm: str, mass: str, half: str, limit: str) -> None:
    """By the fractions, on either side of either limit: a float's last bit called some of them inside or outside."""
    one, low, high = _touching(arm, mass, half)
    limits = {
        "upper": Limits(upper=read(high, "moment")),
        "lower": Limits(lower=read(low, "moment")),
        "beyond upper": Limits(upper=read(low, "moment")),
        "beyond lower": Limits(lower=read(high, "moment")),
    }[limit]
    assert weigh(replace(one, limits=limits)).statement_guarded == "too close to tell"


def test_a_reading_whose_interval_touches_its_limit_is_too_close_to_tell() -> None:
    """The same at the document's own point: 0.840 kg ± 5 g with a limit of 0.845 kg, and for the mass 4.1 kg ± 20 g."""
    support = Support(read("0.255 m", "length"), readings=(read("0.840 kg", "mass"),))
    stated = StatedUncertainty(calibration=Stated(read("5 g", "mass"), "kg", "expanded", 2.0), k=2.0)
    surface = Surface("rudder", read("4.1 kg", "mass"), Stated(read("20 g", "mass"), "kg", "expanded", 2.0))
    for bound in ("0.845 kg", "0.835 kg"):
        for reading in (ReadingLimits(upper=read(bound, "mass")), ReadingLimits(lower=read(bound, "mass"))):
            found = weigh(Weighing(surface, (support,), uncertainty=stated, limits=Limits(reading=reading)))
            assert found.statement_guarded == "too close to tell"
    for bound in ("4.12 kg", "4080 g"):
        for mass in (MassLimits(upper=read(bound, "mass")), MassLimits(lower=read(bound, "mass"))):
            found = weigh(Weighing(surface, (support,), uncertainty=stated, limits=Limits(mass=mass)))
            assert found.statement_guarded == "too close to tell"


def test_another_guarded_statement_far_from_the_limit_is_a_disagreement(monkeypatch: pytest.MonkeyPatch) -> None:
    """9.8 ± 0.098 N m below 12 N m is inside by the guarded rule; a second route that says outside ends it."""
    stated = StatedUncertainty(calibration=Stated(0.01, "kg", "standard"), k=2.0)
    limited = replace(ONE, limits=Limits(upper=12.0), uncertainty=stated)
    assert weigh(limited).statement_guarded == "inside"
    monkeypatch.setattr("hingeline.balance.recheck.guarded", lambda *bounds: "outside")
    with pytest.raises(RoutesDisagree, match="guarded statement"):
        weigh(limited)


@pytest.mark.parametrize("room", ["ballast", "coating", "spread", "swing"])
def test_an_inner_room_is_there_when_it_is_named(room: str) -> None:
    assert getattr(hingeline.balance, room) is importlib.import_module(f"hingeline.balance.{room}")
    assert hingeline.balance.__getattr__(room) is getattr(hingeline.balance, room)


def test_a_room_that_there_is_not_is_no_attribute() -> None:
    with pytest.raises(AttributeError, match="no attribute 'attic'"):
        _ = hingeline.balance.attic
