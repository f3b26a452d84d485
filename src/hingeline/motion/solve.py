"""From a recording to its statement, with the evidence and the reasons."""

from __future__ import annotations

import numpy as np

from hingeline.motion import intervals
from hingeline.motion.checks import refuse_unusable
from hingeline.motion.evidence import evidence_of
from hingeline.motion.facts import Facts, facts_of
from hingeline.motion.flaws import one_direction
from hingeline.motion.intervals import Estimate, Estimates
from hingeline.motion.model import Recording
from hingeline.motion.phase import phase_of
from hingeline.motion.regular import arrays_of, together
from hingeline.motion.results import Interval, MotionResult, Stretch
from hingeline.motion.rules import verdict_of
from hingeline.motion.tones import Tones, fit_tones
from hingeline.motion.verdict import Verdict
from hingeline.motion.words import CAUTIONS, next_of, notes_of, reasons_of


def judge(recording: Recording) -> MotionResult:
    """Say what one recording of a shaking surface shows.

    Parameters
    ----------
    recording : Recording
        Tracks over times: SI units, plunge positive down, pitch nose up.

    Returns
    -------
    MotionResult
        One of five statements with its evidence; frequency [Hz] and, where the motion grows or dies out,
        damping ratio and growth rate [1/s] with intervals at 95 %.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the recording.

    Notes
    -----
    Rules in ``rules.py`` beside this file, in a fixed order. No probability is given: none was calibrated on
    real recordings. ``dying out`` speaks for the airspeed and the amplitude of the recording only.

    Examples
    --------
    >>> import numpy as np
    >>> from hingeline.motion import judge, recording_of
    >>> times = np.arange(1200) / 120.0
    >>> swing = 0.01 * np.exp(-0.6 * times) * np.cos(2.0 * np.pi * 4.0 * times)
    >>> noise = 1e-4 * np.random.default_rng(1).standard_normal(1200)
    >>> judge(recording_of(times, {"plunge": swing + noise})).statement
    'dying out'
    """
    refuse_unusable(recording)
    facts = facts_of(recording)
    verdict, start, stop, estimates = spoken_of(facts)
    phase = phase_of(facts, recording, start, stop)
    rate, known = facts.tracks.rate, recording.time_scale.true_over_file is not None
    return MotionResult(
        name=recording.name,
        source=recording.source,
        statement=verdict.statement,
        ground=verdict.ground,
        frequency=_interval(estimates.frequency, "Hz") if known else None,
        frequency_per_file_second=None if known else estimates.frequency.value,
        damping_ratio=_interval(estimates.damping_ratio, "1"),
        growth_rate=_interval(estimates.growth_rate, "1/s") if known else None,
        phase=None if phase is None else phase.lag,
        phase_limit=None if phase is None else phase.limit,
        coherence=None if phase is None else phase.coherence,
        cycles=estimates.frequency.value * (stop - start) / rate,
        stretch=Stretch(facts.start + start / rate, facts.start + (stop - 1) / rate),
        signal_to_noise=facts.level,
        time_scale=recording.time_scale,
        evidence=evidence_of(facts, verdict, estimates, phase, _at_true_times(recording, facts)),
        reasons=reasons_of(facts, verdict),
        next=next_of(facts, verdict),
        notes=notes_of(facts, recording, phase, stated=estimates.frequency.low is not None),
        cautions=CAUTIONS,
    )


def spoken_of(facts: Facts) -> tuple[Verdict, int, int, Estimates]:
    """Give what the rules say, the stretch that its numbers come from, in samples, and the numbers.

    The one statement that speaks of damping rests on swings that the samples show. One wrong sample shows none: where
    the fit ran away the decay is withdrawn, and the rules speak again without it.
    """
    verdict = verdict_of(facts)
    start, stop, estimates = _estimates_of(facts, verdict)
    if verdict.statement == "dying out" and estimates.ran_away:
        verdict = verdict_of(facts, shows_a_decay=False)
        start, stop, estimates = _estimates_of(facts, verdict)
    return verdict, start, stop, estimates


def _estimates_of(facts: Facts, verdict: Verdict) -> tuple[int, int, Estimates]:
    """Give the stretch that the numbers come from, in samples, and the numbers."""
    count = facts.tracks.values.shape[1]
    if verdict.statement == "growing" and facts.rise is not None and facts.rising is not None:
        rise = facts.rise
        found = intervals.of_damped_swings(facts, facts.rising, rise.start, rise.stop, rise.rate, grows=True)
        return rise.start, rise.stop, found
    if verdict.statement == "dying out" and facts.falling is not None:
        start, stop = decay_stretch(facts)
        line = facts.fall.line
        found = intervals.of_damped_swings(facts, facts.falling, start, stop, None if line is None else line.rate)
        return start, stop, found
    if verdict.ground == "a steady tone":
        return 0, count, intervals.of_a_tone(facts)
    return 0, count, intervals.of_the_record(facts)


def _at_true_times(recording: Recording, facts: Facts) -> Tones | None:
    """Fit one sine to the samples where their times are uneven: resampling bends a tone of few samples a cycle."""
    if facts.clock.regular:
        return None
    times, values = arrays_of(recording)
    # As facts_of has them: a sensor's directions turned into one, and what lies far off in time left out.
    _, values, _ = one_direction(recording, values, facts.flaws)
    near = together(times)
    times, values = times[near], values[:, near]
    known = np.isfinite(values[facts.best])
    return fit_tones(times[known], values[facts.best, known], [facts.frequency])


def decay_stretch(facts: Facts) -> tuple[int, int]:
    """Give the samples from the greatest swing to a cycle after it has fallen into the noise."""
    cycle = int(facts.tracks.rate / facts.frequency)
    return facts.fall.peak, min(facts.tracks.values.shape[1], facts.fall.fit_stop + cycle)


def _interval(estimate: Estimate | None, unit: str) -> Interval | None:
    return None if estimate is None else Interval(estimate.value, estimate.low, estimate.high, unit)
