"""Flutter: from mass, stiffness and air to the speed where a motion starts to grow.

Files, by question
------------------
model, structures     frozen inputs and results
system                the common form A(p, U) that every model becomes
build                 a task becomes a system (section, tailplane, wing, measured_modes; natural: modes in vacuo)
strip_air, tab_air    the air forces; pressure_series checks them; wake: C; atmosphere: density
branches              the k-method's branches, known between wave numbers
neutral_points        all neutral points of a range, with their direction
coalescence           the same where nothing damps
roots                 roots at a speed: p-method and p-k method
counting, growing     how many roots grow; proof of "lowest" and of "none in this range"
confirming            the second and third way to each point
divergence, reversal  static speeds; control_load: what a control is for
energy, mode_words    a motion's work over a cycle; the motion in words
sensitivity           how the onset moves with each input
singular              null vectors, Newton on the matrix
result_words          assumptions, notes, cautions
solve                 puts an answer together
"""

from __future__ import annotations

from hingeline.flutter.build import build_system
from hingeline.flutter.model import (
    Aileron,
    AileronWeight,
    Air,
    Crossing,
    Divergence,
    FlutterResult,
    FlutterTask,
    FreePlay,
    MeasuredMode,
    ModeAtOnset,
    Modes,
    ModeStrip,
    ModeWeight,
    Onset,
    Reversal,
    Root,
    RootsAtSpeed,
    ScatteredField,
    Section,
    Sensitivity,
    Tailplane,
    TailplaneWeight,
    Wing,
)
from hingeline.flutter.solve import analyse

__all__ = [
    "Aileron",
    "AileronWeight",
    "Air",
    "Crossing",
    "Divergence",
    "FlutterResult",
    "FlutterTask",
    "FreePlay",
    "MeasuredMode",
    "ModeAtOnset",
    "ModeStrip",
    "ModeWeight",
    "Modes",
    "Onset",
    "Reversal",
    "Root",
    "RootsAtSpeed",
    "ScatteredField",
    "Section",
    "Sensitivity",
    "Tailplane",
    "TailplaneWeight",
    "Wing",
    "analyse",
    "build_system",
]
