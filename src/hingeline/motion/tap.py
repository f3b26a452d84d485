"""A free decay on the ground: which modes ring, and how they are damped."""

from __future__ import annotations

import numpy as np

from hingeline.motion import intervals, rules
from hingeline.motion.checks import refuse_unusable
from hingeline.motion.facts import Facts, facts_of
from hingeline.motion.intervals import Estimate, Estimates
from hingeline.motion.model import Recording
from hingeline.motion.results import Interval, Mode, Stretch, TapResult
from hingeline.motion.solve import decay_stretch

CAUTIONS = (
    "An estimate from one tap, tried on simulated recordings only.",
    "A still aircraft says nothing of its damping in the air. It gives a flutter model its modes, not its answer.",
    "A phone weighs 150 to 250 g: on a control surface it changes what is measured. Take it off, and check it off, "
    "before anybody flies.",
)
LEAST_EXPLAINED, LEAST_FALL, LEAST_CYCLES = 0.70, 6.0, 4.0
SEVERAL = (
    "Tap three times or more, at different places and with different strength. A mode that is hardly struck is not "
    "seen, and damping that changes with strength tells of play or friction."
)
ACCELERATION = "Read from accelerations: frequency and damping are the same as of the displacement."


def modes_by_tap(recording: Recording) -> TapResult:
    """Read the modes from a recorded tap.

    Parameters
    ----------
    recording : Recording
        A free decay: displacement, angle or acceleration. Known time scale.

    Returns
    -------
    TapResult
        Frequencies [Hz] and damping ratios [1] with intervals at 95 %, strongest first; none, with the reason,
        where the recording is no free decay.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the recording.

    Notes
    -----
    Damped swings fitted to the samples of all channels together, from the greatest swing until it has fallen into
    the noise. The first mode's intervals were tried in simulation; the others' come from the same fit.

    Examples
    --------
    >>> import numpy as np
    >>> from hingeline.motion import modes_by_tap, recording_of
    >>> times = np.arange(600) / 200.0
    >>> noise = 1e-2 * np.random.default_rng(2).standard_normal(600)
    >>> ring = np.exp(-1.2 * times) * np.sin(2.0 * np.pi * 7.5 * times) * 5.0
    >>> found = modes_by_tap(recording_of(times, {"acceleration": ring + noise}))
    >>> f"{found.modes[0].frequency.value:.2f} Hz"
    '7.50 Hz'
    """
    refuse_unusable(recording)
    facts = facts_of(recording)
    start, stop = decay_stretch(facts)
    refused, found = _refused(facts, recording), None
    if refused is None and facts.falling is not None:
        line = facts.fall.line
        found = intervals.of_damped_swings(facts, facts.falling, start, stop, None if line is None else line.rate)
        refused = None if found.modes else "No damped swing could be fitted to the samples."
    rate = facts.tracks.rate
    return TapResult(
        name=recording.name,
        modes=() if refused or found is None else _modes(found),
        refused=refused,
        cycles=facts.frequency * (stop - start) / rate,
        stretch=Stretch(facts.start + start / rate, facts.start + (stop - 1) / rate),
        signal_to_noise=facts.level,
        explained=0.0 if facts.falling is None else float(np.clip(facts.falling.explained, 0.0, 1.0)),
        time_scale=recording.time_scale,
        notes=(SEVERAL, *((ACCELERATION,) if "acceleration" in facts.quantities else ())),
        cautions=CAUTIONS,
    )


def _refused(facts: Facts, recording: Recording) -> str | None:
    """Say why a recording is no free decay; None where it is one."""
    if recording.time_scale.true_over_file is None:
        return "Whether the file plays in true time is not known: state the capture rate."
    if "sound" in facts.quantities:
        return "A sound is turned up and down by the recorder: its fall is no damping."
    if facts.level < rules.LEAST_LEVEL:
        return f"The loudest half second stands only {facts.level:.1f} times above the noise."
    if facts.frequency > rules.NEAR_NYQUIST * facts.clock.rate:
        return f"{facts.frequency:.1f} Hz is too fast for {facts.clock.rate:.0f} samples a second."
    if facts.flaws.flat_tops:
        return "The samples have flat tops: the swing was cut off. Tap more gently, or widen the sensor's range."
    if not rules.starts_at_once(facts):
        return "The motion does not begin with one tap: cut the recording so that it holds a single one."
    return _no_fall(facts)


def _no_fall(facts: Facts) -> str | None:
    if facts.falling is None or facts.fall.fall < LEAST_FALL:
        return "The motion does not fall after the tap: it is driven, or hardly damped; record for longer."
    if facts.falling.explained < LEAST_EXPLAINED:
        return f"Damped swings make only {100.0 * max(0.0, facts.falling.explained):.0f} % of it: no free decay."
    return None


def _modes(found: Estimates) -> tuple[Mode, ...]:
    first = (Mode(_interval(found.frequency, "Hz"), _interval(found.damping_ratio, "1")),)
    return first + tuple(
        Mode(_interval(frequency, "Hz"), _interval(damping, "1")) for frequency, damping in found.modes[1:]
    )


def _interval(estimate: Estimate | None, unit: str) -> Interval:
    assert estimate is not None  # of a fit that came to rest
    return Interval(estimate.value, estimate.low, estimate.high, unit)
