"""What a flutter task is refused for, and in which words."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.model import FieldSource, FlutterTask, FreePlay, ScatteredField
from hingeline.flutter.ranges import RANGES
from tests.hingeline.flutter.test_dotted import TASKS


def changed(name: str, table: dict[str, Any] | None = None, **task: Any) -> FlutterTask:
    """Give one of the tasks with fields of its table, and of itself, changed."""
    whole = TASKS[name]
    return replace(whole, **{name: replace(getattr(whole, name), **(table or {}))}, **task)


def strip_of(**fields: Any) -> dict[str, Any]:
    """Give the strips of the measured modes with one changed."""
    assert TASKS["modes"].modes is not None
    return {"strips": (replace(TASKS["modes"].modes.strips[0], **fields),)}


def aileron_of(**fields: Any) -> dict[str, Any]:
    """Give the wing's aileron, changed."""
    assert TASKS["wing"].wing is not None
    assert TASKS["wing"].wing.aileron is not None
    return {"aileron": replace(TASKS["wing"].wing.aileron, **fields)}


def weight_of(**fields: Any) -> dict[str, Any]:
    """Give the tailplane's weight, changed."""
    assert TASKS["tailplane"].tailplane is not None
    return {"weights": (replace(TASKS["tailplane"].tailplane.weights[0], **fields),)}


@pytest.mark.parametrize("name", TASKS)
def test_a_sound_task_passes_and_is_a_document(name: str) -> None:
    """Each of the four models is accepted, and its document reads back as the same record."""
    refuse_unusable(TASKS[name])

    assert from_document(to_document(TASKS[name]), FlutterTask) == TASKS[name]


TAB = {"tab_hinge_line": 0.8, "tab_inertia": 0.001, "hinge_line": 0.5, "surface_inertia": 0.01}
SURFACE = ("plunge", "pitch", "surface")
REFUSED = [
    (changed("section", {"semichord": -0.3}), "section.semichord", "from 0.0001 and up to 100 m", "Check the number"),
    (changed("section", {"mass": math.nan}), "section.mass", "a mass of one metre of span from 1e-06", "Check"),
    (changed("section", {"elastic_axis": 25.0}), "section.elastic_axis", "a place on the chord", "-0.5 is a quarter"),
    (changed("section", {"freedoms": ("plunge",)}), "section.freedoms", "two or more different", "no flutter"),
    (changed("section", {"freedoms": ("plunge", "plunge")}), "section.freedoms", "two or more different", "only once"),
    (changed("section", {"freedoms": ("plunge", "flap")}), "section.freedoms", "some of plunge", "Write these words"),
    (changed("section", {"pitch_inertia": 0.0}), "section.pitch_inertia", "from 1e-12", "Check the number"),
    (changed("section", {"pitch_stiffness": -1.0}), "section.pitch_stiffness", "from 0", "Check the number"),
    (changed("section", {"plunging_mass": 11.0}), "section.plunging_mass", "at least the mass, 12", "all that moves"),
    (changed("section", {"freedoms": SURFACE, "hinge_line": 1.0, "surface_inertia": 0.01}), "section.hinge_line",
     "between -1 and 1", "three quarters"),
    (changed("section", {"freedoms": (*SURFACE, "tab")} | TAB | {"tab_hinge_line": None}), "section.tab_hinge_line",
     "the tab's hinge line", "Add it"),
    (changed("section", {"freedoms": (*SURFACE, "tab")} | TAB | {"tab_hinge_line": 0.4}), "section.tab_hinge_line",
     "aft of the surface's hinge line at 0.5", "lies on the surface"),
    (changed("section", {"freedoms": (*SURFACE, "tab"), "tab_rigid_gear": 1.0} | TAB), "section.tab_rigid_gear",
     "no rigid gear beside a tab", 'Leave "tab" out'),
    (changed("section", {"tab_rigid_gear": 1.0} | TAB), "section.tab_rigid_gear", "a surface that moves", "Add"),
    (changed("section", {"freedoms": SURFACE, "tab_rigid_gear": 1.0, "tab_gear": 0.5} | TAB),
     "section.tab_rigid_gear", "no tab_stiffness", "no spring"),
    (changed("section", {"pitch_static_moment": 5.0}), "section.pitch_inertia", "2.08333 kg m", "elastic axis"),
    (changed("section", {"freedoms": SURFACE, "surface_static_moment": 1.0, "surface_inertia": 0.01}), "section.mass",
     "a real body", "not the centre of gravity"),
    (changed("wing", {"inertia": 0.8}), "wing.inertia", "0.866", "about the elastic axis"),
    (changed("tailplane", {"hinge_line": 25.0}), "tailplane.hinge_line", "a part of the chord", "Check"),
    (changed("tailplane", {"inertia": 0.1}), "tailplane.inertia", "0.166169 kg m^2", "not about the centre of gravity"),
    (changed("tailplane", {"circuit_stiffness": None}), "tailplane.circuit_stiffness", "either", "A free circuit"),
    (changed("tailplane", {"circuit_frequency": 9.0}), "tailplane.circuit_stiffness", "either", "A free circuit"),
    (changed("tailplane", {"part_of_span_in_jet": 1.1}), "tailplane.part_of_span_in_jet", "up to 1", "Check"),
    (changed("tailplane", weight_of(arm=-0.3)), "tailplane.weight[0].arm", "an arm ahead", "is positive"),
    (changed("tailplane", weight_of(arm_stiffness=1.0)), "tailplane.weight[0].arm_frequency", "or arm_s", "Leave one"),
    (changed("wing", {"bending_modes": 13}), "wing.bending_modes", "a whole number of shapes from 1 and up to 12", ""),
    (changed("wing", {"torsion_stiffness": 0.0}), "wing.torsion_stiffness", "a stiffness from 1e-09", "Check"),
    (changed("wing", aileron_of(from_root=6.0)), "wing.aileron.from", "inboard of 6 m", "Swap"),
    (changed("wing", aileron_of(to=6.5)), "wing.aileron.to", "at most the length of the wing, 6 m", "from the root"),
    (changed("wing", aileron_of(hinge_line=-1.0)), "wing.aileron.hinge_line", "between -1 and 1", "a quarter"),
    (changed("wing", aileron_of(inertia=0.01)), "wing.aileron.inertia", "0.18", "about the hinge line"),
    (changed("modes", strip_of(plunge=(0.9,))), "modes.strip[0].plunge", "2, one for each mode", "modes' order"),
    (changed("modes", strip_of(hinge_line=1.2)), "modes.strip[0].hinge_line", "between -1 and 1", "a quarter"),
    (changed("modes", strip_of(surface_inertia=0.0)), "modes.strip[0].surface_inertia", "from 1e-12", "no inertia"),
    (changed("modes", {"strips": ()}), "modes.strip", "at least one", "Add it"),
    (changed("modes", {"modes": ()}), "modes.mode", "at least one", "Add it"),
    (changed("section", air=replace(TASKS["section"].air, altitude=0.0)), "air", "either a density", "1.225"),
    (changed("section", air=replace(TASKS["section"].air, density=0.0)), "air.density", "from 1e-06", "Check"),
    (changed("section", air=replace(TASKS["section"].air, density=None, altitude=12e3)), "air.altitude", "11000", ""),
    (changed("section", speeds=(10.0,)), "speeds", "the lowest and the highest speed", "Write speeds"),
    (changed("section", speeds=(10.0, 5.0)), "speeds", "the lower speed first", "Swap"),
    (changed("section", speeds=(0.0, 5.0)), "speeds[0]", "a true airspeed from 0.001", "Check"),
    (changed("section", speeds=(1.0, math.inf)), "speeds[1]", "up to 1000 m/s", "Check"),
    (changed("section", wake="wagner"), "wake", "one of theodorsen, two-lag", "Leave it out"),
    (changed("section", lift_slope_factor=1.3), "lift_slope_factor", "at most 1.2", "two-dimensional"),
    (changed("section", structural_damping=(0.01, 0.02, 0.03)), "structural_damping", "or 2: plunge, pitch", "order"),
    (changed("section", structural_damping=(-0.01,)), "structural_damping[0]", "from 0 and up to 1", "Check"),
    (changed("section", damping_ratios=(0.01,)), "damping_ratios", "one for each of the 2 modes", "lowest first"),
    (changed("section", damping_ratios=(0.01, 0.99)), "damping_ratios[1]", "up to 0.9", "Check"),
    (changed("section", scatter=(ScatteredField("section.mess", 0.1),)), "scatter.section.mess", "a number of this",
     "air.density, section.semichord"),
    (changed("section", scatter=(ScatteredField("section.mass", 1.5),)), "scatter.section.mass", "up to 1", "Check"),
    (changed("section", scatter=(ScatteredField("section.mass"),)), "scatter.section.mass", "one deviation", "State"),
    (changed("section", scatter=(ScatteredField("section.mass", 0.1, 0.2),)), "scatter.section.mass", "one deviation",
     "that once"),
    (changed("section", scatter=(ScatteredField("section.mass", 0.1), ScatteredField("section.mass", 0.2))),
     "scatter.section.mass", "one deviation", "that once"),
    (changed("section", scatter=(ScatteredField("section.mass", 0.1), ScatteredField("section.mass"))),
     "scatter.section.mass", "one deviation", "that once"),
    (changed("section", scatter=(ScatteredField("section.mass", standard_uncertainty=-1.0),)), "section.mass",
     "0 or more", "Give the size"),
    (changed("section", sources=(FieldSource("mess", "a guess"),)), "sources.mess", "a number of this", "Here there"),
    (changed("section", free_play=FreePlay(0.01, "tab")), "free_play.in", "one of the freedoms", "Add the freedom"),
    (changed("section", free_play=FreePlay(0.01, "circuit")), "free_play.in", "one of the freedoms", "Add the freedom"),
    (changed("wing", free_play=FreePlay(0.01, "tab")), "free_play.in", "circuit, surface for [wing]", "Name"),
    (changed("wing", aileron_of(locked=True), free_play=FreePlay(0.01, "circuit"), damping_ratios=()), "free_play.in",
     "one of the freedoms", "Add the freedom"),
    (changed("tailplane", free_play=FreePlay(0.0, "circuit")), "free_play.half_gap", "above 0", "Check"),
    (changed("tailplane", free_play=FreePlay(0.01, "circuit", ())), "free_play.starts", "at least one", "a bigger"),
    (changed("tailplane", free_play=FreePlay(0.01, "circuit", (0.0,))), "free_play.starts[0]", "above 0", "Check"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("task", "field", "expected", "remedy"), REFUSED, ids=[f"{i} {one[1]}" for i, one in enumerate(REFUSED)]
)
def test_refused(task: FlutterTask, field: str, expected: str, remedy: str) -> None:
    """The one fault is refused at its own field, with what was expected and how to mend it."""
    with pytest.raises(InputRefused) as caught:
        refuse_unusable(task)
    (refusal,) = caught.value.refusals

    assert refusal.field == field
    assert expected in refusal.expected
    assert remedy in refusal.remedy
    assert refusal.remedy.endswith(".")


def test_no_model_and_two_models_are_refused() -> None:
    """Exactly one table describes the model."""
    none, two = replace(TASKS["section"], section=None), replace(TASKS["section"], wing=TASKS["wing"].wing)

    for task, shown in ((none, '"none"'), (two, '"section and wing"')):
        with pytest.raises(InputRefused, match=f"{shown} is refused. Expected exactly one of section, tailplane"):
            refuse_unusable(task)


def test_all_faults_come_in_one_go() -> None:
    """Three faults of different kinds are three refusals."""
    task = changed("tailplane", {"span": 0.0, "mass": -1.0}, speeds=(3.0, 2.0))

    with pytest.raises(InputRefused) as caught:
        refuse_unusable(task)
    assert [one.field for one in caught.value.refusals] == ["speeds", "tailplane.span", "tailplane.mass"]


def test_every_number_of_a_structure_has_a_range() -> None:
    """No field that holds a number is left unchecked: the ranges name each of them."""
    for record, ranges in RANGES.items():
        numbers = {name for name, kind in record.__annotations__.items() if not _no_number(str(kind))}
        assert numbers == set(ranges), record.__name__


def _no_number(kind: str) -> bool:
    return kind in ("bool", "Aileron | None") or kind.startswith(
        ("tuple[Freedom", "tuple[Tail", "tuple[Ail", "tuple[Mea", "tuple[Mode")
    )


@pytest.mark.parametrize("name", TASKS)
def test_a_free_control_is_not_refused(name: str) -> None:
    """Zero stiffness is an answer of its own, not a fault."""
    free = {
        "section": {"pitch_stiffness": 0.0},
        "tailplane": {"circuit_stiffness": 0.0},
        "modes": {"surface_stiffness": 0.0},
    }
    refuse_unusable(changed(name, free.get(name, aileron_of(stiffness=0.0))))


def test_free_play_of_a_control_is_in_its_circuit_or_in_the_surface_alike() -> None:
    """Both words name the one spring of a control; a tab has its own."""
    strip = {"freedoms": (*SURFACE, "tab")} | TAB
    for place in ("circuit", "surface", "tab"):
        refuse_unusable(changed("section", strip, free_play=FreePlay(0.01, place)))
    for name in ("wing", "modes"):
        refuse_unusable(changed(name, free_play=FreePlay(0.01, "circuit")))
        refuse_unusable(changed(name, free_play=FreePlay(0.01, "surface")))
