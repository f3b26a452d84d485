"""What an unbalanced surface does at the stick: the reference numbers, the signs, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.static_effects import STANDARD_GRAVITY, Manoeuvre, SurfaceMass
from hingeline.flutter.stick import LIGHTENS, NOT_A_BOB_WEIGHT, at_the_stick
from hingeline.flutter.stick_model import HoldingAir, StatedManoeuvre, StickTask, WeightAhead

LEVEL = StatedManoeuvre("level flight", Manoeuvre())
AIR = HoldingAir(1.225, (25.0, 50.0), 1.1, 0.33, -0.35, -0.25)
TASK = StickTask(
    SurfaceMass(0.324, 0.009, 0.18249), 0.2, 0.38, (LEVEL,), 4.1, WeightAhead(1.2, 0.27), AIR, "elevator"
)  # fmt: skip


def test_the_pull_is_the_weight_times_the_gearing() -> None:
    """In level flight H = g S and F = G H (own derivation; by hand): 3.1774 N m, 6.037 N of pull."""
    (load,) = at_the_stick(TASK).loads

    assert load.hinge_moment == pytest.approx(STANDARD_GRAVITY * 0.324, rel=1e-14)
    assert load.stick_force == pytest.approx(0.38 / 0.2 * load.hinge_moment, rel=1e-14)
    assert load.stick_force_per_g == pytest.approx(load.stick_force, rel=1e-14)


def test_a_lost_weight_adds_its_moment_and_is_felt_most_when_slow() -> None:
    """A lost weight gives dH = g m l whatever the surface; the tab trims it out four times as far at half the speed."""
    found = at_the_stick(TASK)
    assert found.lost is not None
    slow, fast = found.trimmed

    assert found.lost.hinge_moment == pytest.approx(STANDARD_GRAVITY * 1.2 * 0.27, rel=1e-12)
    assert slow.tab_angle == pytest.approx(4.0 * fast.tab_angle, rel=1e-12)
    assert slow.tab_angle > 0.0
    pressure = 1.225 / 2 * 25.0**2 * 1.1 * 0.33
    assert pressure * (-0.35) * slow.tab_angle == pytest.approx(-found.lost.hinge_moment, rel=1e-12)


def test_without_weight_or_air_there_is_nothing_to_lose() -> None:
    """Nothing is said of a weight that is not stated, nor of trim without air."""
    assert at_the_stick(replace(TASK, weight=None)).lost is None
    assert at_the_stick(replace(TASK, air=None)).trimmed == ()


def test_notes_go_with_the_side_of_the_mass() -> None:
    """Tail-heavy adds pull with load factor, nose-heavy takes it away; balanced says neither."""
    for moment, said in ((0.3, [NOT_A_BOB_WEIGHT]), (-0.3, [LIGHTENS]), (0.0, [])):
        found = at_the_stick(replace(TASK, surface=SurfaceMass(moment, 0.0, 0.2), weight=None))
        assert list(found.notes) == said
        assert (found.loads[0].stick_force > 0) == (moment > 0)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"stick_travel": 0.0}, "stick_travel"),
        ({"surface": SurfaceMass(float("nan"), 0.0, 0.2)}, "surface.static_moment"),
        ({"manoeuvres": ()}, "manoeuvre"),
        ({"manoeuvres": (StatedManoeuvre("x", Manoeuvre(load_factor=50.0)),)}, "manoeuvre[0].load_factor"),
        ({"weight": WeightAhead(12.0, 0.3)}, "weight"),
        ({"air": replace(AIR, by_tab=0.0)}, "air.by_tab"),
        ({"air": replace(AIR, speeds=())}, "air.speeds"),
        ({"air": replace(AIR, speeds=(0.0,))}, "air.speeds[0]"),
    ],
)
def test_what_cannot_be_is_refused_by_name(changed: dict[str, object], field: str) -> None:
    """No gearing, no number, no manoeuvre, a weight heavier than its surface, and air that holds nothing."""
    with pytest.raises(InputRefused) as refused:
        at_the_stick(replace(TASK, **changed))  # type: ignore[arg-type]
    assert field in [one.field for one in refused.value.refusals]
