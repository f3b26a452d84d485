"""What was measured, as a list: each measure with what it points to, and whether the statement hangs on it."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hingeline.motion import rules
from hingeline.motion.equations import RAYLEIGH_VARIATION
from hingeline.motion.facts import Facts, strongest
from hingeline.motion.intervals import Estimates
from hingeline.motion.phase import PhaseFacts
from hingeline.motion.results import Evidence, PointsTo, Role
from hingeline.motion.tones import Tones
from hingeline.motion.under_a_decay import goes_on_under, grows_under
from hingeline.motion.verdict import Verdict

DECIDING = {
    "grows along a line": ("rise", "line", "drift", "pole"),
    "a steady tone": ("variation", "kurtosis", "memory", "cycles"),
    "falls along damped swings": ("start", "fall", "explained", "damping"),
    "a swing grows under the decay": ("under",),
    "a swing goes on under the decay": ("on",),
    "small motion grows": ("fading", "powers", "bend"),
    "the level changes": ("change", "variation", "kurtosis"),
    "under the noise": ("level",),
    "too few cycles": ("cycles",),
    "too few cycles for a random motion": ("cycles",),
    "too few independent looks": ("looks",),
    "not a simple shaken structure": ("gaussian",),
    "as turbulence or buffeting makes it": ("variation", "kurtosis", "memory"),
    "between the patterns": ("variation", "kurtosis", "memory"),
    "too much is missing": ("lost",),
    "too fast for the rate": ("samples",),
    "too fast for irregular times": ("samples", "jitter"),
    "a sound only": (),
}
"""Which measures each ground stands on."""
FILE_PACE = "cycles in a second of the file"


class _List:
    """Gathers evidence for one verdict."""

    def __init__(self, ground: str) -> None:
        self.deciding = DECIDING[ground]

    def of(self, key: str, measure: str, value: float | None, unit: str, points_to: PointsTo) -> Evidence:
        role: Role = "decides" if key in self.deciding else "shown"
        shown = None if value is None or not math.isfinite(value) else float(value)
        return Evidence(measure, shown, unit, points_to, role)


def evidence_of(
    facts: Facts, verdict: Verdict, estimates: Estimates, phase: PhaseFacts | None, tone: Tones | None
) -> tuple[Evidence, ...]:
    """Gather the evidence, what decides first."""
    listed = _List(verdict.ground)
    found = [
        *_of_record(listed, facts),
        *_of_envelope(listed, facts),
        *_of_rise(listed, facts),
        *_of_fall(listed, facts),
        *_of_growth_under(listed, facts),
        *_of_what_goes_on(listed, facts),
        *_of_small_motion(listed, facts),
        *_of_two_ways(listed, estimates, true_time=facts.true_time),
        *_of_spectrum(listed, facts, phase),
        *_of_true_times(listed, tone, _pace(facts.true_time)),
    ]
    return tuple(sorted(found, key=lambda each: each.role != "decides"))


def _of_record(listed: _List, facts: Facts) -> Iterator[Evidence]:
    told: PointsTo = "neither"
    yield listed.of("level", "loudest half second over the noise", facts.level, "1", told)
    yield listed.of("cycles", "cycles recorded", facts.cycles, "1", told)
    yield listed.of("samples", "samples a cycle", facts.clock.rate / facts.frequency, "1", told)
    yield listed.of("lost", "samples missing", 100.0 * facts.clock.lost, "%", told)
    yield listed.of("jitter", "unevenness of the steps", 100.0 * facts.clock.jitter, "%", told)
    yield listed.of("clipped", "samples at an extreme value", 100.0 * facts.flaws.clipped, "%", told)


def _of_envelope(listed: _List, facts: Facts) -> Iterator[Evidence]:
    envelope = facts.envelope
    yield listed.of(
        "variation",
        f"variation of the envelope (a tone 0, simple shaking {RAYLEIGH_VARIATION:.2f})",
        envelope.variation,
        "1",
        _between(envelope.variation, rules.TONE_VARIATION, rules.RANDOM_VARIATION),
    )
    yield listed.of(
        "kurtosis",
        "kurtosis of the swing (a sine -1.5, simple shaking 0)",
        envelope.kurtosis,
        "1",
        _between(envelope.kurtosis, rules.TONE_KURTOSIS, rules.RANDOM_KURTOSIS),
    )
    # Forgetting is the sign of shaking, so that the order is the other way round.
    remembers = _between(-envelope.memory, -rules.RANDOM_MEMORY, -rules.LONG_MEMORY)
    yield listed.of("memory", "likeness to itself ten cycles later", envelope.memory, "1", remembers)
    changed: PointsTo = "neither"
    yield listed.of("change", "level of the last quarter over the first", envelope.level_change, "dB", changed)
    yield listed.of("looks", "independent looks at the envelope", facts.looks, "1", "neither")
    if facts.gaussian is not None:
        odd: PointsTo = "cannot tell" if facts.gaussian <= rules.UNUSUAL else "shaken"
        measure = "chance of so even an envelope in simple shaking"
        yield listed.of("gaussian", measure, 100.0 * facts.gaussian, "%", odd)


def _between(value: float, tone: float, random: float) -> PointsTo:
    return "a steady tone" if value < tone else "shaken" if value > random else "cannot tell"


def _of_rise(listed: _List, facts: Facts) -> Iterator[Evidence]:
    rise = facts.rise
    if rise is None:
        return
    grows: PointsTo = "self-excited" if "rise" in listed.deciding else "neither"
    yield listed.of("rise", "largest straight rise", rise.change, "dB", grows)
    yield listed.of("line", "straightness of that rise in the logarithm, R²", rise.straightness, "1", grows)
    yield listed.of("drift", "change of frequency over that rise", 100.0 * rise.drift, "%", grows)
    main = strongest(facts, facts.rising)
    if facts.rising is not None and main is not None:
        ratio = float(facts.rising.damping_ratios[main])
        yield listed.of("pole", "damping ratio in that rise, by the pencil", ratio, "1", grows)


def _of_fall(listed: _List, facts: Facts) -> Iterator[Evidence]:
    fall, dying = facts.fall, "falls along damped swings"
    dies: PointsTo = "dying out" if listed.deciding == DECIDING[dying] else "neither"
    yield listed.of("start", "largest swing before the greatest, over it", fall.before, "1", dies)
    yield listed.of("fall", "fall from the greatest swing to the end", fall.fall, "dB", dies)
    if facts.falling is not None:
        share = 100.0 * max(0.0, facts.falling.explained)
        yield listed.of("explained", "motion after the greatest swing that damped swings make", share, "%", dies)
        main = strongest(facts, facts.falling)
        if main is not None:
            ratio = float(facts.falling.damping_ratios[main])
            yield listed.of("damping", "damping ratio after the greatest swing, by the pencil", ratio, "1", dies)


def _of_growth_under(listed: _List, facts: Facts) -> Iterator[Evidence]:
    """Where the statement hangs on it: what grows while the greatest swing dies out."""
    under = grows_under(facts) if "under" in listed.deciding else None
    if under is None:
        return
    yield listed.of("under", "rise of a swing under the decay", under.rise.change, "dB", "self-excited")
    pace = _pace(facts.true_time)
    yield listed.of("under", "frequency of the swing that grows under the decay", under.frequency, pace, "self-excited")


def _of_what_goes_on(listed: _List, facts: Facts) -> Iterator[Evidence]:
    """Where the statement hangs on it: what goes on while the greatest swing dies out."""
    under = goes_on_under(facts) if "on" in listed.deciding else None
    if under is None:
        return
    pace = _pace(facts.true_time)
    yield listed.of("on", "even swing at the end over the greatest", 100.0 * under.share, "%", "a steady tone")
    yield listed.of("on", "frequency of the even swing at the end", under.frequency, pace, "a steady tone")


def _of_small_motion(listed: _List, facts: Facts) -> Iterator[Evidence]:
    small = facts.small
    if small is None:
        return
    grows: PointsTo = "self-excited" if "fading" in listed.deciding else "neither"
    # Only its sign may be said: the size is biased.
    signs = (float(np.sign(small.fading.growth)), float(np.sign(small.powers.growth)))
    yield listed.of("fading", "sign of the growth at zero amplitude, fading law", signs[0], "1", grows)
    yield listed.of("powers", "sign of the growth at zero amplitude, law of powers", signs[1], "1", grows)
    yield listed.of("bend", "bending of the stiffness, F", small.fading.bend, "1", grows)


def _pace(true_time: bool) -> str:
    """Give the unit of a frequency."""
    return "Hz" if true_time else FILE_PACE


def _of_two_ways(listed: _List, estimates: Estimates, *, true_time: bool) -> Iterator[Evidence]:
    told: PointsTo = "neither"
    pace, frequency = _pace(true_time), estimates.frequency
    yield listed.of("", "frequency, by the fit or the line through the phase", frequency.value, pace, told)
    if frequency.second is not None:
        yield listed.of("", "frequency, by the spectrum's peak", frequency.second, pace, told)
    # Without true time there is no growth a second, in the result as little as here.
    if true_time and estimates.growth_rate is not None:
        yield listed.of("", "growth rate, by damped swings fitted", estimates.growth_rate.value, "1/s", told)
        if estimates.growth_rate.second is not None:
            second = estimates.growth_rate.second
            yield listed.of("", "growth rate, by the line through the envelope", second, "1/s", told)


def _of_spectrum(listed: _List, facts: Facts, phase: PhaseFacts | None) -> Iterator[Evidence]:
    told: PointsTo = "neither"
    yield listed.of("", "width of the peak over its frequency", facts.width, "1", told)
    yield listed.of("", "second harmonic over the first", facts.harmonics[0], "1", told)
    yield listed.of("", "third harmonic over the first", facts.harmonics[1], "1", told)
    if phase is not None:
        yield listed.of("", "phase of pitch from 0 or 180 deg", phase.off_the_axis, "deg", told)
        yield listed.of("", "coherence of plunge and pitch", phase.coherence, "1", told)


def _of_true_times(listed: _List, tone: Tones | None, pace: str) -> Iterator[Evidence]:
    """Where the times are uneven: one sine at the times as they are."""
    if tone is None:
        return
    told: PointsTo = "neither"
    yield listed.of("", "frequency, by one sine at the true times", float(tone.frequencies[0]), pace, told)
    size = float(np.hypot(tone.cosines[0], tone.sines[0]))
    noise = size / (np.sqrt(2.0) * tone.deviation) if tone.deviation > 0.0 else 0.0
    yield listed.of("", "that sine over what it leaves", float(noise), "1", told)
