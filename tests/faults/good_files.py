"""Good files to spoil: between them they use every field that a job file can have."""

from __future__ import annotations

import re

from tests.doors.checkouts import ROOT

EXAMPLES = {path.name: path.read_text(encoding="utf-8") for path in sorted((ROOT / "examples").glob("*.toml"))}
EXAMPLE = EXAMPLES["01-elevator-left-half.toml"]

# The Merle T2 is invented, and so is everything about it.
ACROSS_FRICTION = """\
format = "hingeline/weighing/1"
local_gravity = "9.81 m/s^2"

[surface]
name = "Rudder"
mass = "0.80 kg"
mass_uncertainty = {standard = "2 g"}
vertical_offset = "-0.5 in"

[[support]]
arm = "9.5 in"
side = "aft"
pushes = "down"
rising = ["8.4 N", "8.45 N"]
falling = ["8.1 N", "8.15 N"]
tare = "0.2 N"
arm_uncertainty = {limit = "0.02 in", shape = "triangular"}
tare_uncertainty = {resolution = "0.05 N"}

[[hung]]
mass = "0.95 lb"
arm = "12.6 in"
side = "forward"
mass_uncertainty = {expanded = "0.2 g", k = 2.0, degrees_of_freedom = 9}

[[part]]
name = "tab pushrod"
state = "not fitted"
mass = "40 g"
arm = "120 mm"
side = "aft"

[[part]]
name = "gust lock"
state = "fitted, not counted"
mass = "110 g"
arm = "60 mm"
side = "forward"
arm_uncertainty = {limit = "2.5 %"}

[uncertainty]
scale = {resolution = "0.05 N"}
calibration = {limit = "0.5 %"}
arm = {limit = "1 mm"}
gravity = {limit = "0.03 %"}
repeatability = {standard = "0.1 N"}
k = 2

[limits]
rule = "guarded"
friction_fraction = 0.025
source = "Merle T2 data sheet 9, issue A, page 2 (invented)"

[[limits.band]]
mass = ["0.75 kg", "0.92 kg"]
lower = "9.0 in-lb nose-heavy"
upper = "0.2 in-lb nose-heavy"

[[limits.band]]
mass = ["0.92 kg", "1.10 kg"]
upper = "11.5 kg cm"

[limits.reading]
lower = "-9 N"
upper = "12 N"
"""

HUNG_CUP = """\
format = "hingeline/weighing/1"

[surface]
name = "Aileron, right"
mass = "2.310 kg"
hinge_to_trailing_edge = "210 mm"

[[hung]]
mass = "155 g"
arm = "64 mm"
side = "forward"

[uncertainty]
arm = {limit = "1 mm"}
mass_uncertainty = {limit = "1 g"}

[limits]
lower = "-0.5 kg cm"
upper = "+1.5 kg cm"

[limits.mass]
upper = "2.4 kg"
"""

TWO_SCALES = """\
format = "hingeline/weighing/1"

[surface]
name = "Stabilator"

[[support]]
arm = "300 mm"
side = "aft"
readings = ["1.250 kg", "1.252 kg"]
scale = "A"

[[support]]
arm = "120 mm"
side = "forward"
readings = ["0.410 kg"]
scale = "B"

[uncertainty]
calibration = {expanded = "2 g", k = 2}
air = {limit = "1 g"}
coverage = 0.99
"""

WEIGHINGS = {
    "example": EXAMPLE,
    "across friction": ACROSS_FRICTION,
    "hung cup": HUNG_CUP,
    "two scales": TWO_SCALES,
}

LIMITS = """\
format = "hingeline/limits/1"

[[row]]
surface = "Elevator, left half"
positive = "tail-heavy"
moment = ["0.00 N m", "2.10 N m"]
reading = ["0 g", "840 g"]
arm = "255 mm"
second_unit = ["0.0 kg cm", "21.4 kg cm"]
mass = ["3.9 kg", "4.3 kg"]
second_mass = ["8.6 lb", "9.5 lb"]
chord = "270 mm"
effectivity = "serial 0001 and on"
source = "Merle T2 data sheet 7, issue C, page 3 (invented)"

[[row]]
surface = "Rudder"
positive = "nose down is plus"
moment = {lower = "-1.0 in-lb"}
force = ["none", "2.0 N"]
arm = "9.5 in"
second_arm = "241 mm"
"""

# The examples of the commands beside weigh and limits: command, then text.
OTHER_JOBS = [
    (found[1], text)
    for text in EXAMPLES.values()
    if (found := re.search(r'^format = "hingeline/(\w+)/1"', text, re.MULTILINE))
    and found[1] not in ("weighing", "limits")
]
OTHER_JOBS += [("due", path.read_text(encoding="utf-8")) for path in sorted((ROOT / "examples" / "due").glob("*.toml"))]


def changed(text: str, old: str, new: str) -> str:
    """Give a good file with one edit; a test fails where there is nothing to edit."""
    assert old in text, f"{old!r} does not stand in the good file"
    return text.replace(old, new, 1)
