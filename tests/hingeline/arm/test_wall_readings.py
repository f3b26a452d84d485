"""Readings of a wall gauge: the lowest counts, its ± is the gauge's, and the wall that is left is what was read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.arm import (
    ArmTask,
    ArmWeight,
    Loss,
    Material,
    Root,
    Tube,
    WallLimit,
    WallReading,
    examine,
    loss_by_readings,
)
from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated
from hingeline_app.files.arm_file import read_arm
from tests.doors.checkouts import ROOT

EXAMPLE = Path(ROOT) / "examples" / "arm" / "04-elevator-arm-wall-readings.toml"
GAUGE = Stated(0.04e-3, "m", "expanded", 2.0)


def changed(*pairs: tuple[str, str]) -> bytes:
    text = EXAMPLE.read_text("utf-8")
    for was, now in pairs:
        assert was in text
        text = text.replace(was, now)
    return text.encode()


def test_the_lowest_of_the_readings_is_the_loss_with_the_gauges_uncertainty() -> None:
    """1.50 less 1.29 by hand."""
    readings = [WallReading("top", 1.32e-3, GAUGE), WallReading("below", 1.29e-3, GAUGE)]
    found = loss_by_readings(1.50e-3, "inside", readings)
    assert found is not None
    assert (found.where, found.depth) == ("inside", pytest.approx(0.21e-3))
    assert found.depth_uncertainty == GAUGE


def test_nothing_below_the_nominal_wall_is_no_loss() -> None:
    """A wall thicker than drawn is told as read, and adds no strength: the nominal section counts."""
    assert loss_by_readings(1.50e-3, "outside", [WallReading("top", 1.51e-3, GAUGE)]) is None


@pytest.mark.parametrize("wall", [1.50e-3, 1.51e-3])
def test_a_wall_read_as_drawn_keeps_the_gauges_uncertainty(wall: float) -> None:
    """At the nominal wall and above it the wall is known no better than a hundredth of a millimetre below it.

    The wall that is left and the modulus, worked by hand: U of the wall 2 x 0.02 mm = 0.04 mm; the modulus of a thin
    tube falls about in proportion to the wall.
    """
    task = replace(read_arm(EXAMPLE.read_bytes()), readings=(WallReading("root", wall, GAUGE),), loss=None, k=2.0)
    assert task.tube is not None
    assert task.tube.wall == 1.50e-3
    drawn = examine(task)
    assert drawn.section.wall_left is not None
    assert drawn.section.wall_left.value == pytest.approx(1.50e-3)
    assert drawn.section.wall_left.expanded_uncertainty == pytest.approx(0.04e-3, rel=1e-9)
    below = examine(replace(task, loss=loss_by_readings(1.50e-3, "inside", [WallReading("root", 1.49e-3, GAUGE)])))
    for found, near in ((drawn.loads[0].stress, below.loads[0].stress),
                        (drawn.section.section_modulus, below.section.section_modulus)):  # fmt: skip
        assert found.expanded_uncertainty == pytest.approx(near.expanded_uncertainty, rel=0.03)
    assert not any("No uncertainty is stated" in note for note in drawn.notes)


def test_the_nominal_wall_read_in_another_unit_is_no_loss() -> None:
    """0.059 in is 1.4986 mm; what turning one into the other leaves, 2e-19 m, was refused as a depth."""
    assert loss_by_readings(1.4986e-3, "outside", [WallReading("top", 0.059 * 0.0254, GAUGE)]) is None


def test_the_readings_give_the_same_estimate_as_the_depth_typed() -> None:
    """The file by readings and the file with the depth that the lowest says: the same section, stress and wall left."""
    by_readings = examine(read_arm(EXAMPLE.read_bytes()))
    text = EXAMPLE.read_text("utf-8")
    head, _, rest = text.partition("[[loss.reading]]")
    depth = 'depth = {value = "0.21 mm", expanded = "0.04 mm", k = 2}\n\n[limit]' + rest.partition("[limit]")[2]
    typed = examine(read_arm((head + depth).encode()))
    for now, then in zip(by_readings.loads, typed.loads, strict=True):
        assert now.stress.value == pytest.approx(then.stress.value, rel=1e-12)
        assert now.stress.expanded_uncertainty == pytest.approx(then.stress.expanded_uncertainty, rel=1e-9)
    assert by_readings.section.wall_left is not None
    assert by_readings.section.wall_left.value == pytest.approx(1.29e-3)
    assert by_readings.section.wall_left.standard_uncertainty == pytest.approx(0.02e-3, rel=1e-6)


def test_each_place_stands_with_its_wall_and_loss_and_one_counts() -> None:
    """Six places; a wall thicker than nominal is a loss below zero; U by the coverage of the file."""
    told = examine(read_arm(EXAMPLE.read_bytes())).readings
    assert [each.position for each in told if each.counts] == ["root, below"]
    assert len(told) == 6
    assert told[-1].lost.value == pytest.approx(-0.01e-3)
    assert told[0].lost.expanded_uncertainty == pytest.approx(1.959964 * 0.02e-3, rel=1e-6)
    assert told[0].part_lost == pytest.approx(0.12)


def test_a_gauge_of_few_degrees_of_freedom_has_a_wider_interval() -> None:
    """At 95 % and 4 degrees of freedom t is 2.776 (GUM table G.2, from memory): for the reading and the wall left."""
    gauge = Stated(0.02e-3, "m", "standard", degrees_of_freedom=4.0)
    low = WallReading("root", 1.29e-3, gauge)
    task = replace(
        read_arm(EXAMPLE.read_bytes()), readings=(low,), loss=loss_by_readings(1.50e-3, "outside", [low]), k=None
    )
    found = examine(task)
    assert found.section.wall_left is not None
    for each in (found.readings[0].wall, found.readings[0].lost, found.section.wall_left):
        assert each.expanded_uncertainty == pytest.approx(2.776 * 0.02e-3, rel=2e-4)
        assert each.degrees_of_freedom == pytest.approx(4.0)


def test_a_gauge_stated_in_per_cent_is_of_the_reading_not_of_the_loss() -> None:
    """2 % of 1.29 mm, not of 0.21 mm."""
    task = read_arm(changed(('expanded = "0.04 mm", k = 2', 'standard = "2 %"')))
    assert task.loss is not None
    assert task.loss.depth_uncertainty is not None
    assert task.loss.depth_uncertainty.standard == pytest.approx(0.02 * 1.29e-3)


@pytest.mark.parametrize(
    ("was", "now", "field"),
    [
        ('where = "outside"  ', 'where = "outside"\ndepth = "0.2 mm"  ', "loss"),
        ('where = "outside"  ', 'where = "local"\nhalf_angle = "20 deg"  ', "loss.reading"),
        ('wall = "1.50 mm"  ', 'wall = {value = "1.50 mm", limit = "0.1 mm"}  ', "tube.wall"),
        ('"1.32 mm"', '"0 mm"', "loss.reading[0].wall"),
        ('"1.32 mm"', '"-1 mm"', "loss.reading[0].wall"),
        ('"1.32 mm"', '"1.32"', "loss.reading[0].wall.value"),
    ],
)
def test_readings_that_cannot_be_meant_are_refused(was: str, now: str, field: str) -> None:
    """The depth beside them, a local loss, a nominal wall with its own ±, a wall of nothing, a bare number."""
    with pytest.raises(InputRefused) as refused:
        examine(read_arm(changed((was, now))))
    assert field in [each.field for each in refused.value.refusals]


def test_the_uncertainty_of_a_loss_beside_readings_is_stated_as_any_other() -> None:
    """A k of nearly nothing was not looked at there, and made the uncertainty of a margin infinite."""
    task = read_arm(EXAMPLE.read_bytes())
    assert task.loss is not None
    assert task.readings
    with pytest.raises(InputRefused, match=r"loss\.depth\.k"):
        examine(replace(task, loss=replace(task.loss, depth_uncertainty=replace(GAUGE, coverage_factor=1e-300))))


def test_readings_of_a_solid_bar_are_refused_by_the_library_too() -> None:
    """A bar has no wall to read: nothing is divided by one that is not there."""
    bar = read_arm((ROOT / "examples" / "arm" / "03-aileron-arm-solid-bar.toml").read_bytes())
    with pytest.raises(InputRefused, match="a gauge reads the wall of a tube"):
        examine(replace(bar, readings=(WallReading("root", 1.3e-3),)))


@pytest.mark.parametrize("limit", range(500, 870, 17))
def test_a_wall_on_its_limit_is_inside_and_a_micrometre_below_is_outside(limit: int) -> None:
    """0.889 mm less what was lost down to the limit, as decimals are: floats called forty of 144 such walls outside."""
    arm = ArmTask(
        Material(200e9, 7833.0, 517.1e6, 655e6), Root(0.26), ArmWeight(1.4), Tube(19.05e-3, 0.889e-3),
        wall_limit=WallLimit(limit / 1e6),
    )  # fmt: skip
    on, below = (examine(replace(arm, loss=Loss("outside", (889 - limit + more) / 1e6))).wall for more in (0, 1))
    assert on is not None
    assert below is not None
    assert (on.statement_simple, on.margin) == ("inside", 0.0)
    assert (below.statement_simple, below.margin) == ("outside", pytest.approx(-1e-6))
