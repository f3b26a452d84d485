"""Recordings of a shaking surface: tracks over time in, a statement with its reasons out.

Files, by question
------------------
model, results        frozen inputs and answers; checks: what a recording must be
equations             one function, one equation
regular, flaws        times, gaps, clipping, repeated values, a sensor's main direction
spectrum, envelope    where in frequency, how loud the noise, how even the swing
pencil, damped_fit    which damped swings add up to it, and how sure they are
tones                 steady tones at the true times, where the samples are uneven
growth                straight rises and falls in the logarithm
bent_autoregression   would it grow if it were small; under_a_decay: does a small swing grow under a knock's large one
gaussian_surrogates   could simple shaking look so
phase                 pitch behind plunge
facts                 all of it, once
rules, verdict        the statement
intervals             numbers with intervals, by two ways
evidence, words       the list, the reasons, what to record next
solve                 puts one recording together
tap                   a free decay on the ground
margin, onset         several speeds or weights (onset_model, onset_words)
trace                 what a picture shows
marks/                a section's motion from marks that a camera saw
"""

from __future__ import annotations

from hingeline.motion.model import Channel, Recording, TimeScale, recording_of
from hingeline.motion.onset import onset_of
from hingeline.motion.onset_model import OnsetResult, OnsetTask, RecordingAt
from hingeline.motion.results import Evidence, Interval, Mode, MotionResult, Stretch, TapResult
from hingeline.motion.solve import judge
from hingeline.motion.tap import modes_by_tap
from hingeline.motion.tones import Tones, fit_tones
from hingeline.motion.trace import Trace, trace_of

__all__ = [
    "Channel",
    "Evidence",
    "Interval",
    "Mode",
    "MotionResult",
    "OnsetResult",
    "OnsetTask",
    "Recording",
    "RecordingAt",
    "Stretch",
    "TapResult",
    "TimeScale",
    "Tones",
    "Trace",
    "fit_tones",
    "judge",
    "modes_by_tap",
    "onset_of",
    "recording_of",
    "trace_of",
]
