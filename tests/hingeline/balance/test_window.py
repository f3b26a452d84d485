"""The reading window: gross readings at the limits, worked by hand."""

from __future__ import annotations

import pytest

from hingeline.balance import HungMass, Limits, Part, Stated, StatedUncertainty, Support, Surface, Weighing, weigh
from hingeline.balance.window import shown_in_own_unit
from hingeline.fields import Shown
from hingeline.units import read

STATED = StatedUncertainty(calibration=Stated(0.01, "kg", "standard"), k=2.0)


def weighed(support: Support, limits: Limits, **more: object) -> Weighing:
    return Weighing(Surface("rudder"), (support,), limits=limits, uncertainty=STATED, local_gravity=9.8, **more)  # type: ignore[arg-type]


def test_window_of_a_scale_under_the_trailing_edge() -> None:
    """4.9 N m a kilogram, 0.1 kg tare: 0 N m at 0.1 kg, 9.8 N m at 2.1 kg; U = 0.098 N m moves each by 20 g."""
    window = weigh(weighed(Support(0.5, readings=(1.1,), tare=0.1), Limits(0.0, 9.8))).reading_window
    assert window is not None
    shown = [window.at_lower, window.at_upper, window.at_guarded_lower, window.at_guarded_upper]
    assert [each.value for each in shown if each] == pytest.approx([0.1, 2.1, 0.12, 2.08], rel=1e-13)
    assert {each.unit for each in shown if each} == {"kg"}
    assert window.rises_with_moment


def test_what_else_is_in_the_sum_moves_the_window() -> None:
    """A hung 0.98 N m and a part's 0.49 N m stand for 0.3 kg of reading: the window moves down by so much."""
    more = {"hung": (HungMass(0.5, 0.2),), "parts": (Part("tab", "not fitted", 0.1, 0.5),)}
    window = weigh(weighed(Support(0.5, readings=(1.0,)), Limits(None, 9.8), **more)).reading_window
    assert window is not None
    assert window.at_upper is not None
    assert window.at_upper.value == pytest.approx(2.0 - 0.3, rel=1e-13)
    assert (window.at_lower, window.at_guarded_lower) == (None, None)


@pytest.mark.parametrize(
    ("side", "pushes", "rises"),
    [("aft", "up", True), ("forward", "up", False), ("aft", "down", False), ("forward", "down", True)],
)
def test_which_way_the_reading_goes(side: str, pushes: str, rises: bool) -> None:
    """Under the nose, or with a hook that pulls at the tail, the reading falls as the tail grows heavier."""
    support = Support(0.5, side, readings=(1.0,), pushes=pushes)  # type: ignore[arg-type]
    window = weigh(weighed(support, Limits(-9.8, 0.0))).reading_window
    assert window is not None
    assert window.rises_with_moment is rises
    assert window.at_lower is not None
    assert window.at_lower.value == pytest.approx(-2.0 if rises else 2.0, rel=1e-13)


def test_the_window_is_in_the_first_readings_unit() -> None:
    """Typed in grams or pounds, the window comes in grams or pounds."""
    for text, unit, at_limit in (("1000 g", "g", 2000.0), ("2.2 lb", "lb", 2.0 / 0.45359237)):
        window = weigh(weighed(Support(0.5, readings=(read(text, "mass"),)), Limits(None, 9.8))).reading_window
        assert window is not None
        assert window.at_upper is not None
        assert window.at_upper.unit == unit
        assert window.at_upper.value == pytest.approx(at_limit, rel=1e-12)


def test_shown_in_own_unit() -> None:
    """A tare's unit will do where readings are plain; without any text it is SI."""
    assert shown_in_own_unit(0.5, Support(0.5, readings=(1.0,), tare=read("100 g", "mass"))) == Shown(500.0, "g")
    assert shown_in_own_unit(0.5, Support(0.5, rising=(read("1 oz", "mass"),), falling=(1.0,))).unit == "oz"
    assert shown_in_own_unit(0.5, Support(0.5, readings=(1.0,), reading_unit="N")) == Shown(0.5, "N")


def test_no_limit_no_window() -> None:
    """Without moment limits there is nothing to stand at; nor with two supports."""
    assert weigh(weighed(Support(0.5, readings=(1.0,)), Limits())).reading_window is None
    two = Weighing(Surface("rudder"), (Support(0.5, readings=(1.0,)),) * 2, limits=Limits(0.0, 9.8))
    assert weigh(two).reading_window is None
