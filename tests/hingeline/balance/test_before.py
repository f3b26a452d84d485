"""Before the work: the window and the U to expect, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance import (
    Limits,
    MomentBand,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    plan_weighing,
    weigh,
)
from hingeline.balance.notes import CAUTIONS
from hingeline.errors import InputRefused
from hingeline.units import read

ESTIMATE = "Estimate: the scatter of the readings is not in it. Only the weighing decides."
STATED = StatedUncertainty(calibration=Stated(0.01, "kg", "standard"), k=2.0)
LIMITS = Limits(1.0, 9.8, source="Merle T2 maintenance manual, page 27-4, revision 2")
PLANNED = Weighing(Surface("rudder"), (Support(0.5, tare=0.1),), uncertainty=STATED, limits=LIMITS, local_gravity=9.8)


def values(weighing: Weighing) -> list[float | None]:
    window = plan_weighing(weighing).reading_window
    shown = (window.at_lower, window.at_guarded_lower, window.at_guarded_upper, window.at_upper)
    return [None if each is None else each.value for each in shown]


def test_window_and_expected_u() -> None:
    """4.9 N m a kilogram, 0.1 kg tare: 1.0 N m at 0.304082 kg, 9.8 at 2.1 kg; U = 0.098 N m is 20 g."""
    plan = plan_weighing(PLANNED)
    assert values(PLANNED) == pytest.approx([0.3040816, 0.3240816, 2.08, 2.1], rel=1e-6)
    assert plan.expected_expanded_uncertainty == pytest.approx(0.098, rel=1e-13)
    assert plan.limits.guarded_lower == pytest.approx(1.098, rel=1e-13)
    assert plan.limits.guarded_upper == pytest.approx(9.702, rel=1e-13)
    assert [row.source for row in plan.budget] == ["scale calibration"]
    assert plan.notes == (ESTIMATE,)
    assert plan.cautions == CAUTIONS


def test_each_end_has_its_own_u() -> None:
    """2 % of the arm: u = 0.02 M, so U = 0.04 N m at 1.0 N m and 0.392 N m at 9.8 N m, the larger is told."""
    stated = StatedUncertainty(arm=Stated(0.02, "1", "standard"), k=2.0)
    plan = plan_weighing(replace(PLANNED, uncertainty=stated))
    assert plan.limits.guarded_lower == pytest.approx(1.04, rel=1e-12)
    assert plan.limits.guarded_upper == pytest.approx(9.408, rel=1e-12)
    assert plan.expected_expanded_uncertainty == pytest.approx(0.392, rel=1e-12)


def test_a_weighing_that_shows_the_window_is_on_the_limit() -> None:
    """Read at the window's end, the surface is just on the limit, with the U that was foretold."""
    (support,) = PLANNED.supports
    for name, limit in (("at_lower", 1.0), ("at_upper", 9.8)):
        shown = getattr(plan_weighing(PLANNED).reading_window, name)
        result = weigh(replace(PLANNED, supports=(replace(support, readings=(shown.value,)),)))
        assert result.static_moment.value == pytest.approx(limit, rel=1e-13)
        assert result.static_moment.expanded_uncertainty == pytest.approx(0.098, rel=1e-13)


@pytest.mark.parametrize(("more", "empty"), [(0.0, True), (1e-9, False), (-1e-9, True)])
def test_a_guarded_window_of_no_width_is_told_as_empty(more: float, empty: bool) -> None:
    """Limits twice U apart leave one number between the guarded ones: nothing that a weighing could show."""
    expanded = plan_weighing(PLANNED).expected_expanded_uncertainty or 0.0
    plan = plan_weighing(replace(PLANNED, limits=replace(LIMITS, lower=0.0, upper=2.0 * expanded + more)))
    assert any("guarded window is empty" in note for note in plan.notes) == empty


def test_readings_already_taken_are_not_used() -> None:
    """A file that has readings gives the same plan; of their scatter nothing is in it."""
    (support,) = PLANNED.supports
    read_already = replace(PLANNED, supports=(replace(support, readings=(1.0, 1.2, 0.9)),))
    assert plan_weighing(read_already) == plan_weighing(PLANNED)


def test_a_stated_repeatability_is_expected() -> None:
    """One reading with a repeatability of u = 10 g beside the calibration's 10 g: U = 2 √2 x 0.049 N m."""
    stated = replace(STATED, repeatability=Stated(0.01, "kg", "standard"))
    plan = plan_weighing(replace(PLANNED, uncertainty=stated))
    assert plan.expected_expanded_uncertainty == pytest.approx(2.0 * math.sqrt(2.0) * 0.049, rel=1e-12)
    assert plan.notes == (
        "Estimate: the scatter is in it as it was stated, that of a single reading; the readings will have their own. "
        "Only the weighing decides.",
    )


def test_one_limit() -> None:
    """With an upper limit alone, there is one end."""
    found = values(replace(PLANNED, limits=replace(LIMITS, lower=None)))
    assert found[:2] == [None, None]
    assert found[2:] == pytest.approx([2.08, 2.1])


def test_the_bands_limits_hold() -> None:
    """A surface of 4 kg is weighed against the limits of its own band."""
    limits = Limits(bands=(MomentBand(3.0, 3.5, 0.0, 2.0), MomentBand(3.5, 4.5, 0.0, 9.8)), source="page 27-4")
    weighing = replace(PLANNED, limits=limits, surface=Surface("rudder", mass=4.0))
    assert plan_weighing(weighing).limits.upper == 9.8


@pytest.mark.parametrize(
    ("changed", "note"),
    [
        (
            replace(PLANNED, uncertainty=StatedUncertainty()),
            "No uncertainty is stated, so no guarded window can be given.",
        ),
        (
            replace(PLANNED, limits=replace(LIMITS, lower=9.7)),
            "The guarded window is empty: weighed like this, the surface cannot be shown to be inside.",
        ),
        (
            replace(PLANNED, limits=replace(LIMITS, lower=-1.0)),
            "A negative reading cannot be shown by this support: use a hook that pulls, or a support on the "
            "other side of the hinge line.",
        ),
        (
            replace(PLANNED, limits=replace(LIMITS, source="")),
            "No source is given for the limits: name document, page and issue.",
        ),
    ],
)
def test_notes(changed: Weighing, note: str) -> None:
    """One change brings one sentence beside the estimate's."""
    assert plan_weighing(changed).notes == (ESTIMATE, note)


def test_without_uncertainty_nothing_is_foretold() -> None:
    """No U, no budget, no guarded window."""
    plan = plan_weighing(replace(PLANNED, uncertainty=StatedUncertainty()))
    assert (plan.expected_expanded_uncertainty, plan.budget) == (None, ())
    assert values(replace(PLANNED, uncertainty=StatedUncertainty()))[1:3] == [None, None]


def test_the_window_takes_the_tares_unit() -> None:
    """Before the work only the tare tells in which unit the scale shows."""
    (support,) = PLANNED.supports
    window = plan_weighing(replace(PLANNED, supports=(replace(support, tare=read("100 g", "mass")),))).reading_window
    assert window.at_upper is not None
    assert (window.at_upper.unit, window.at_upper.value) == ("g", pytest.approx(2100.0))


@pytest.mark.parametrize(
    ("changed", "field", "expected"),
    [
        (replace(PLANNED, supports=PLANNED.supports * 2), "support", "one support"),
        (replace(PLANNED, limits=Limits()), "limits", "a lower or an upper moment limit"),
        (
            replace(
                PLANNED, limits=Limits(bands=(MomentBand(1.0, 2.0, 0.0, 1.0),)), surface=Surface("rudder", mass=9.0)
            ),
            "surface.mass",
            "a mass within one band",
        ),
    ],
)
def test_what_cannot_be_planned(changed: Weighing, field: str, expected: str) -> None:
    """Two supports have no window, without limits there is none, and none for a mass that lies in no band."""
    with pytest.raises(InputRefused) as caught:
        plan_weighing(changed)
    (refusal,) = caught.value.refusals
    assert (refusal.field, refusal.expected) == (field, expected)
    assert refusal.remedy
