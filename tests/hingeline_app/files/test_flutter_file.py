"""A flutter file becomes the task that it says, and is refused in words that mend it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.flutter.model import (
    Air,
    FieldSource,
    FlutterTask,
    FreePlay,
    ScatteredField,
    Section,
    TailplaneWeight,
)
from hingeline_app.files.flutter_file import read_flutter

STRIP = """
format = "hingeline/flutter/1"
name = "Rudder strip"
air = {density = "1.225 kg/m^3"}
wake = "two-lag"
structural_damping = 0.02
damping_ratios = [0.01, 0.02, 0.01]
speeds = ["0.5 m/s", "40 m/s"]

[section]
freedoms = ["plunge", "pitch", "surface"]
semichord = "0.127 m"
elastic_axis = -0.5
hinge_line = 0.5
mass = "1.558 kg/m"
plunging_mass = "3.3843 kg/m"
pitch_static_moment = "0.08587 kg"
surface_static_moment = "0.00395 kg"
pitch_inertia = "0.01347 kg m"
surface_inertia = "0.0003264 kg m"
plunge_stiffness = "2818.8 N/m^2"
pitch_stiffness = "37.3 N"
surface_stiffness = "3.9 N"
"""

TAIL = """
format = "hingeline/flutter/1"
air = {altitude = "8000 ft"}
speeds = ["10 kn", "200 kn"]

[tailplane]
span = "2.9 m"
chord = "740 mm"
hinge_line = "25 %"
centre_of_gravity = 42
mass = "10.5 kg"
inertia = "0.62 kg m^2"
support_mass = "25 kg"
support_frequency = "8 Hz"
circuit_stiffness = "3200 N m/rad"

[[tailplane.weight]]
mass = "2 kg"
arm = "360 mm"
arm_frequency = "20 Hz"

[[tailplane.weight]]
mass = "0.5 kg"
arm = "200 mm"
"""

WING = """
format = "hingeline/flutter/1"
air = {density = "1.225 kg/m^3"}
speeds = ["3 m/s", "200 m/s"]

[wing]
length = "6 m"
semichord = "0.9 m"
elastic_axis = -0.34
mass = "33 kg/m"
static_offset = 0.18
inertia = "7.8 kg m"
bending_stiffness = "9.6e6 N m^2"
torsion_stiffness = "1e6 N m^2"
bending_modes = 3

[wing.aileron]
from = "4.5 m"
to = "6 m"
hinge_line = 0.5
mass = "8 kg"
static_moment = {value = "1.2 kg m", expanded = "0.04 kg m", k = 2}
inertia = "0.26 kg m^2"
locked = false

[[wing.aileron.weight]]
mass = "4.8 kg"
arm = "250 mm"
spanwise = "5.95 m"
"""

MODES = """
format = "hingeline/flutter/1"
air = {density = "1.225 kg/m^3"}
speeds = ["3 m/s", "150 m/s"]

[modes]
surface_stiffness = "0 N m/rad"

[[modes.mode]]
generalised_mass = "27 kg"
frequency = "8.6 Hz"

[[modes.strip]]
width = "0.56 m"
semichord = "0.4 m"
axis = -0.5
hinge_line = 0.3
plunge = [0.8912]
pitch = [0.34]
surface = 1
horn = true
surface_static_moment = "0.3 kg"
surface_inertia = "0.034 kg m"

[[modes.weight]]
mass = "2.8 kg"
arm = "0.3 m"
axis_to_weight = "-12 mm"
plunge = [0.9]
pitch = [0.34]
"""

PLAIN = Section(
    ("plunge", "pitch", "surface"),
    0.127,
    -0.5,
    1.558,
    0.5,
    3.3843,
    0.08587,
    0.00395,
    0.01347,
    0.0003264,
    2818.8,
    37.3,
    3.9,
)


def read(text: str) -> FlutterTask:
    """Read a file given as text."""
    return read_flutter(text.encode())


def test_a_strip_reads_as_it_is_written() -> None:
    """Every field of the file is in the record, in SI, and plain numbers."""
    task = read(STRIP)

    assert task == FlutterTask(
        Air(density=1.225),
        (0.5, 40.0),
        section=PLAIN,
        wake="two-lag",
        structural_damping=(0.02,),
        damping_ratios=(0.01, 0.02, 0.01),
        name="Rudder strip",
    )
    assert type(task.structure.semichord) is float


def test_a_tailplane_reads_with_its_weights() -> None:
    """Places are parts of the chord, "25 %" or 42 alike; feet and knots become metres; weights keep their order."""
    task = read(TAIL)
    tailplane = task.tailplane

    assert tailplane is not None
    assert (tailplane.hinge_line, tailplane.centre_of_gravity) == (0.25, 0.42)
    assert tailplane.weights == (TailplaneWeight(2.0, 0.36, 20.0), TailplaneWeight(0.5, 0.2))
    assert task.air.altitude == pytest.approx(2438.4)
    assert task.speeds[1] == pytest.approx(200 * 1852 / 3600)


def test_a_wing_reads_with_its_aileron() -> None:
    """What was left out takes its default; a number with its own uncertainty is scattered by it."""
    task = read(WING)
    wing = task.wing

    assert wing is not None
    assert wing.aileron is not None
    assert (wing.bending_modes, wing.torsion_modes) == (3, 4)
    assert (wing.aileron.from_root, wing.aileron.product_of_inertia, wing.aileron.stiffness) == (4.5, None, 0.0)
    assert wing.aileron.weights[0].spanwise == 5.95
    assert task.scatter == (ScatteredField("wing.aileron.static_moment", standard_uncertainty=0.02),)


def test_modes_read_with_strips_and_weights() -> None:
    """Shape values are bare numbers, one for each mode; a distance may be negative."""
    modes = read(MODES).modes

    assert modes is not None
    assert modes.strips[0].plunge == (0.8912,)
    assert modes.strips[0].horn
    assert modes.weights[0].axis_to_weight == -0.012
    assert not modes.weights[0].on_when_measured


@pytest.mark.parametrize("text", [STRIP, TAIL, WING, MODES], ids=["strip", "tailplane", "wing", "modes"])
def test_a_task_replays_from_its_document(text: str) -> None:
    """The record, written as a document and read back, is the same to the last digit."""
    task = read(text)

    assert from_document(to_document(task), FlutterTask) == task


def test_other_units_give_the_same_strip() -> None:
    """Inches, pounds a foot and grams mean what they mean."""
    other = STRIP.replace('"0.127 m"', '"5 in"').replace('"37.3 N"', f'"{37.3 / 4.4482216152605!r} lbf"')
    other = other.replace('"1.558 kg/m"', '"15.58 g/cm"').replace('"0.01347 kg m"', '"13.47 g m"')
    section = read(other).section

    assert section is not None
    for name in ("semichord", "pitch_stiffness", "mass", "pitch_inertia"):
        assert getattr(section, name) == pytest.approx(getattr(PLAIN, name), rel=1e-14)


def test_scatter_is_named_with_dots_with_or_without_quotes() -> None:
    """Quoted, as tables within tables, or by the field's own name where only one has it; the table leads."""
    stated = STRIP.replace('"0.0003264 kg m"', '{value = "0.0003264 kg m", standard = "0.00001 kg m"}')
    scatter = '\n[scatter]\nsection.mass = 0.05\n"surface_inertia" = 0.1\ndensity = 0\n'
    task = read(stated + scatter)

    assert task.scatter == (
        ScatteredField("section.mass", 0.05),
        ScatteredField("section.surface_inertia", 0.1),
        ScatteredField("air.density", 0.0),
    )
    assert read(stated).scatter == (ScatteredField("section.surface_inertia", standard_uncertainty=0.00001),)


def test_a_place_on_the_chord_has_its_uncertainty_in_per_cent_of_the_chord() -> None:
    """42 % ± 0.5 % of the chord is a half-width of 0.005, not half a per cent of 0.42."""
    task = read(TAIL.replace("= 42", '= {value = "42 %", limit = "0.5 %"}'))

    (scattered,) = task.scatter
    assert scattered.field == "tailplane.centre_of_gravity"
    assert scattered.standard_uncertainty == pytest.approx(0.005 / math.sqrt(3))


def test_sources_are_kept_beside_their_fields() -> None:
    """Where a number comes from stands with the task."""
    task = read(WING + '\n[sources]\n"wing.aileron.static_moment" = "weighing 0412, 12 March 2027"\n')

    assert task.sources == (FieldSource("wing.aileron.static_moment", "weighing 0412, 12 March 2027"),)


def test_free_play_reads() -> None:
    """Half the gap is an angle; without starts there are two."""
    play = '\n[free_play]\nhalf_gap = "1 deg"\nin = "circuit"\n'

    assert read(TAIL + play).free_play == FreePlay(math.pi / 180, "circuit", (1.5, 6.0))
    assert read(TAIL + play + "starts = [2]\n").free_play == FreePlay(math.pi / 180, "circuit", (2.0,))


def test_a_lift_slope_is_assumed_unless_it_is_said_to_be_measured() -> None:
    """The factor may state its uncertainty."""
    head, rest = STRIP.split("speeds", 1)
    task = read(
        head + 'lift_slope_factor = {value = 0.8, standard = 0.04}\nlift_slope_source = "measured"\nspeeds' + rest
    )

    assert (task.lift_slope_factor, task.lift_slope_source) == (0.8, "measured")
    assert task.scatter == (ScatteredField("lift_slope_factor", standard_uncertainty=pytest.approx(0.04)),)


REFUSED = [
    (STRIP, '"0.127 m"', "0.127", "section.semichord", "quotes"),
    (STRIP, '"0.127 m"', '"-0.127 m"', "section.semichord", '"-0.127 m" is refused. Expected a semichord from 0.0001'),
    (STRIP, '"1.558 kg/m"', '"1.558 kg"', "section.mass", "a mass per length is expected"),
    (STRIP, 'mass = "1.558 kg/m"\n', "", "section.mass", 'for example mass = "1.558 kg/m"'),
    (STRIP, '"surface"]', '"flap"]', "section.freedoms[2]", '"plunge", "pitch", "surface" or "tab"'),
    (STRIP, "hinge_line = 0.5", 'hinge_line = "0.5"', "section.hinge_line", "a bare number"),
    (STRIP, "structural_damping = 0.02", 'structural_damping = "2 %"', "structural_damping", "plain numbers"),
    (STRIP, "[0.01, 0.02, 0.01]", "[0.01, true, 0.01]", "damping_ratios[1]", "a bare number"),
    (STRIP, "surface_stiffness", "stiffness", "section.stiffness", "It is not known here."),
    (STRIP, "hingeline/flutter/1", "hingeline/weighing/1", "format", 'Use "hingeline weigh" for this file.'),
    (STRIP, "hingeline/flutter/1", "hingeline/flutter/2", "format", "A newer version of Hingeline made it"),
    (STRIP, 'speeds = ["0.5 m/s", "40 m/s"]', "", "speeds", 'for example speeds = ["0.5 m/s", "40 m/s"]'),
    (STRIP, '"0.5 m/s", "40 m/s"', '"0.5 m/s", "1 m/s", "40 m/s"', "speeds", "at most 2 items"),
    (STRIP, 'air = {density = "1.225 kg/m^3"}', "air = {}", "air", "either a density or an altitude"),
    (TAIL, "= 42", "= 0.42", "tailplane.centre_of_gravity", 'Write "42 %", or "0.42 %" if that is meant.'),
    (TAIL, '"25 %"', '"25 mm"', "tailplane.hinge_line", "a percentage"),
    (TAIL, "= 42", '= {value = "0 %", limit = "1 %"}', "tailplane.centre_of_gravity", "not 0 %"),
    (WING, "bending_modes = 3", "bending_modes = 3.5", "wing.bending_modes", "a whole number"),
    (WING, "locked = false", 'locked = "no"', "wing.aileron.locked", "true or false"),
    (WING, "from = ", "from_root = ", "wing.aileron.from_root", "from, to, hinge_line"),
    (MODES, "plunge = [0.8912]", "plunge = [0.8912, 0.1]", "modes.strip[0].plunge", "1, one for each mode"),
    (MODES, "pitch = [0.34]\nsurface", "surface", "modes.strip[0].pitch", "for example pitch = [0.34, 0.0]"),
    (STRIP, STRIP[-1:], '\n[scatter]\nsection.mess = 0.1\n', "scatter.section.mess", "air.density, section.semichord"),
    (STRIP, STRIP[-1:], '\n[scatter]\nsection.mass = "5 %"\n', "scatter.section.mass", "0.05 is 5 per cent"),
    (STRIP, STRIP[-1:], '\n[free_play]\nhalf_gap = "1 deg"\nin = "tab"\n', "free_play.in", "one of the freedoms"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "old", "new", "field", "words"), REFUSED, ids=[f"{i} {r[3]}" for i, r in enumerate(REFUSED)]
)
def test_refused(text: str, old: str, new: str, field: str, words: str) -> None:
    """The fault is refused at its field, in words that say how to mend it."""
    assert old in text
    spoilt = text + new if old == "\n" else text.replace(old, new, 1)

    with pytest.raises(InputRefused) as caught:
        read(spoilt)
    told = {refusal.field: str(refusal) for refusal in caught.value.refusals}
    assert field in told
    assert words in told[field]


def test_two_models_in_one_file_are_refused() -> None:
    """A file describes one model."""
    with pytest.raises(InputRefused, match=r"\"section and tailplane\" is refused\. Expected exactly one of"):
        read(STRIP + TAIL[TAIL.index("[tailplane]") :])


def test_a_file_without_model_is_refused() -> None:
    """The message names the four tables."""
    with pytest.raises(InputRefused, match="exactly one of section, tailplane, wing, modes"):
        read(STRIP[: STRIP.index("[section]")])


def test_zero_stiffness_is_an_input() -> None:
    """A free circuit and a free tab are written as 0."""
    section = read(STRIP.replace('"3.9 N"', '"0 N"')).section

    assert section == replace(PLAIN, surface_stiffness=0.0)
