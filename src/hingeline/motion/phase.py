"""How far does pitch lag plunge? The angle between two channels in the band, and how closely they go together."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hingeline.motion.equations import coherence_floor, skewed_phase
from hingeline.motion.facts import Facts
from hingeline.motion.model import Recording
from hingeline.motion.spectrum import coherence_at


@dataclass(frozen=True, slots=True)
class PhaseFacts:
    """Of pitch behind plunge.

    Parameters
    ----------
    lag : float, optional
        -180 to 180, positive when pitch lags plunge; None where the two do not go together [deg].
    off_the_axis : float
        Distance from 0 or 180 deg, whichever is nearer [deg].
    coherence : float
        [1]
    floor : float
        What two unrelated channels stay under in 95 of 100 [1].
    limit : float, optional
        No finer than this [deg].
    """

    lag: float | None
    off_the_axis: float
    coherence: float
    floor: float
    limit: float | None


def phase_of(facts: Facts, recording: Recording, start: int, stop: int) -> PhaseFacts | None:
    """Measure the phase over a stretch; None without plunge or without pitch: a control's angle is another phase."""
    if not {"plunge", "pitch"} <= set(facts.quantities):
        return None
    plunge, angle = facts.quantities.index("plunge"), facts.quantities.index("pitch")
    pair = facts.tracks.values[[plunge, angle]]
    coherence, segments = coherence_at(pair, facts.tracks.rate, facts.frequency)
    product = (facts.swing[plunge, start:stop] * facts.swing[angle, start:stop].conj()).sum()
    lag = math.degrees(float(np.angle(product)))
    folded = abs(lag) if abs(lag) <= 90.0 else 180.0 - abs(lag)
    floor = coherence_floor(segments)
    known = coherence > floor and min(facts.levels[[plunge, angle]]) > 3.0
    # The skew counts seconds of the file, as the times do; the frequency counts true ones.
    skew = recording.row_skew * (recording.time_scale.true_over_file or 1.0)
    limit = math.degrees(skewed_phase(facts.frequency, skew)) if skew else None
    return PhaseFacts(lag if known else None, folded, coherence, floor, limit)
