"""Flutter: from mass, stiffness and air to the speed where a motion starts to grow.

Files, by question
------------------
model, structures     frozen inputs; results: frozen answers
checks                what a task must fulfil: structure_checks of each structure, ranges of each number
dotted                a number of a task by the name that it has in a file; where_from: how sure each of them is
system                the common form A(p, U) that every model becomes
build                 a task becomes a system (section, tailplane, wing, measured_modes; natural: modes in vacuo);
                      assembling: from mass, stiffness and strips of air; beam_shapes: of a cantilever
strip_air, tab_air    the air forces; pressure_series checks them; wake: C; modelled_air: what a task leaves of them;
                      atmosphere: density; air_words: what was assumed, said aloud
branches              the k-method's branches, known between wave numbers
neutral_points        all neutral points of a range, with their direction
coalescence           the same where nothing damps
roots                 roots at a speed: p-method and p-k method
counting, growing     how many roots grow; proof of "lowest" and of "none in this range"; counting_many: many systems
confirming            the second and third way to each point
divergence, reversal  static speeds; control_load: what a control is for
energy, mode_words    a motion's work over a cycle; the motion in words
sensitivity           how the onset moves with each input
singular              null vectors, Newton on the matrix
result_words          assumptions, notes, cautions
solve                 puts an answer together
wing_flexibility      the one formula of an old criterion that could be sourced
stick, stick_model    what an unbalanced surface does at the stick, by manoeuvre
static_effects        hinge moment and stick force of an unbalanced surface; what is felt when its weight is gone
slack                 which spring has free play; marching, cycle_fit: what a knock turns into; describing: cycles by
                      one harmonic; harmonic_balance: by fifteen; free_play puts them together, slack_answer in words
stacks, determinants  thousands of small systems at once; fast_scan: all their crossings; onsets: what each does
which_way             compiled loops or NumPy, by the same scan_rules: compiling, compiled_wake, compiled_polynomial,
                      compiled_expansion, compiled_scan, compiled_roots, compiled_count
scatter, sweeps       onset speeds of many draws, of one input varied, of two; variants: of models that differ otherwise
"""

from __future__ import annotations

from hingeline.flutter.build import build_system
from hingeline.flutter.free_play import limit_cycles
from hingeline.flutter.model import (
    Aileron,
    AileronWeight,
    Air,
    Crossing,
    Divergence,
    FlutterResult,
    FlutterTask,
    FreePlay,
    LimitCycle,
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
    SpeedDistribution,
    SweepPoint,
    Tailplane,
    TailplaneWeight,
    Variation,
    Wing,
)
from hingeline.flutter.scatter import scatter_onsets
from hingeline.flutter.solve import analyse
from hingeline.flutter.sweeps import sweep, two_way_map

__all__ = [
    "Aileron",
    "AileronWeight",
    "Air",
    "Crossing",
    "Divergence",
    "FlutterResult",
    "FlutterTask",
    "FreePlay",
    "LimitCycle",
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
    "SpeedDistribution",
    "SweepPoint",
    "Tailplane",
    "TailplaneWeight",
    "Variation",
    "Wing",
    "analyse",
    "build_system",
    "limit_cycles",
    "scatter_onsets",
    "sweep",
    "two_way_map",
]
