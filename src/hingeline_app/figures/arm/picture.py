"""From an arm and its document to its picture."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hingeline.arm import ArmTask
from hingeline_app.figures.arm.root_section import RootSection
from hingeline_app.figures.arm.weight_arm import WeightArm, draw_weight_arm
from hingeline_app.figures.arm.words import figures, interval_sentence, measured
from hingeline_app.figures.style import embedded
from hingeline_app.figures.wording import Toward, with_unit

Document = Mapping[str, Any]

WIDTH = 650.0
TOWARD: tuple[Toward, Toward] = ("down", "up")
PLACES = (
    "Weight: tight, its lock whole",
    "Wall: paint off, thickness on a grid, the lowest counts",
    "Root, most stressed fibre: crack check, all round",
)


def arm_svg(task: ArmTask, document: Document, width: float = WIDTH) -> str:
    """Draw the arm as a picture that stands alone."""
    return embedded(draw_weight_arm(arm_picture(task, document), width))


def arm_picture(task: ArmTask, document: Document) -> WeightArm:
    """Gather what is drawn."""
    solid = _section(task)
    return WeightArm(
        length=task.root.length,
        hinge_to_root=task.root.hinge_to_root,
        beyond_tip=task.weight.beyond_tip,
        thickness=solid.height,
        weight=task.weight.mass,
        section=solid,
        places=PLACES,
        sentences=tuple(_sentences(document)),
        length_text=with_unit(_millimetres(task.root.length), "mm"),
        name=task.name,
    )


def _section(task: ArmTask) -> RootSection:
    loss, tube, bar = task.loss, task.tube, task.bar
    if tube is not None:
        wide, high, wall = tube.outside_diameter, tube.outside_diameter, tube.wall
        words = f"tube {_millimetres(wide)} × {_millimetres(wall)} mm"
    else:
        assert bar is not None
        wide, high, wall = bar.width, bar.height, None
        words = f"bar {_millimetres(wide)} × {_millimetres(high)} mm"
    return RootSection(
        width=wide,
        height=high,
        wall=wall,
        lost=0.0 if loss is None else loss.depth,
        where="" if loss is None else loss.where,
        half_angle=0.0 if loss is None or loss.half_angle is None else loss.half_angle,
        words=(words, *_lost(task)),
    )


def _millimetres(length: float) -> str:
    return f"{1e3 * length:.4g}"


def _lost(task: ArmTask) -> Iterator[str]:
    loss = task.loss
    if loss is not None:
        place = {"outside": "all round outside", "inside": "all round inside", "local": "at the most stressed fibre"}
        yield f"{figures(1e3 * loss.depth, 'mm', 2)} lost {place[loss.where]}, measured"


def _sentences(document: Document) -> Iterator[str]:
    worst = max(document["loads"], key=lambda case: case["stress"]["value"])
    sound = figures(worst["sound_stress"]["value"] / 1e6, "MPa", 3)
    yield (
        f"Estimated stress at {worst['factor']:g} g, {worst['direction']}: {measured(worst['stress'], 1e-6, 'MPa')}; "
        f"with nothing lost {sound}."
    )
    yield f"Estimated own frequency: {measured(document['natural_frequency'], 1.0, 'Hz')}."
    crack = document["crack"]
    if crack is not None:
        yield from _growth(crack)
    yield interval_sentence(crack)


def _growth(crack: Document) -> Iterator[str]:
    band = crack["distribution"]
    if band is None:
        yield f"Estimated cycles from the start of an assumed crack to its end: {figures(crack['cycles'], '', 2)}."
        return
    ends = (band["quantiles"][at]["cycles"] for at in (0, -1))
    low, high = (figures(end, "", 2, toward) for end, toward in zip(ends, TOWARD, strict=True))
    yield f"Estimated cycles of an assumed crack: {low} … {high}, 95 % of {band['samples']} draws."
