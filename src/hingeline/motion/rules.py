"""When a recording is called growing, sustained, irregular or dying out, or cannot tell: the first rule speaks.

The rules stand in their fixed order, and the first that applies speaks.

Thresholds were chosen on simulated recordings, and tried on others. None was calibrated on real ones, so no
probability is ever printed. The only statement that speaks of damping is ``dying out``, and it speaks for the
airspeed and the amplitude of that record only.
"""

from __future__ import annotations

import numpy as np

from hingeline.motion.facts import Facts, strongest
from hingeline.motion.under_a_decay import goes_on_under, grows_under
from hingeline.motion.verdict import Verdict

MOST_LOST, LEAST_LEVEL, LEAST_TOLD, NEAR_NYQUIST, IRREGULAR_RATE = 0.30, 3.0, 4.0, 0.4, 8.0
MOST_DRIFT, GROWING_DAMPING, EXPLAINED, STRAIGHTER, LONGER = 0.12, -0.005, 0.85, 0.97, 4.0
QUIET_BEFORE, FAR_DRIFT, LINE_RISE, POLE_RISE, POLE_SHARE = 0.35, 0.4, 16.0, 18.0, 0.6
FAR_RISE, FAR_CYCLES = 25.0, 10.0
TONE_CYCLES, TONE_VARIATION, TONE_KURTOSIS, TONE_CHANGE = 8.0, 0.20, -1.1, 4.0
LONG_VARIATION, LONG_KURTOSIS, LONG_MEMORY = 0.30, -1.0, 0.5
MOST_BEFORE, LEAST_FALL, LEAST_QUARTERS, DYING_DAMPING, COUNTS_FROM, LAST_LEVEL = 0.15, 12.0, 6.0, 0.002, 0.05, 3.0
LAST_SHARE = 0.03
LEVEL_CHANGE, UNEVEN, PEAKED = 8.0, 0.8, 1.5
RANDOM_CYCLES, LEAST_LOOKS = 20.0, 4.0
RANDOM_VARIATION, RANDOM_KURTOSIS, RANDOM_MEMORY = 0.35, -1.0, 0.7
SURE, BENT, LEAST_GROWTH, SECOND_SURE = 2.0, 8.0, 0.01, 0.5
UNUSUAL = 0.05
CLIPPED_KURTOSIS = -1.55


def verdict_of(facts: Facts, *, shows_a_decay: bool = True) -> Verdict:
    """Go through the rules; without the one for a decay where the samples turned out to show none."""
    for rule in (_untold, _growing, _sustained, _dying, _changing, _held_in_turbulence, _short, _bent, _irregular):
        found = rule(facts) if shows_a_decay or rule is not _dying else None
        if found is not None:
            return found
    return Verdict("cannot tell", "between the patterns")


def _untold(facts: Facts) -> Verdict | None:
    if facts.clock.lost > MOST_LOST:
        return Verdict("cannot tell", "too much is missing")
    if facts.level < LEAST_LEVEL:
        return Verdict("cannot tell", "under the noise")
    if facts.cycles < LEAST_TOLD:
        return Verdict("cannot tell", "too few cycles")
    if facts.frequency > NEAR_NYQUIST * facts.clock.rate:
        return Verdict("cannot tell", "too fast for the rate")
    if not facts.clock.regular and facts.frequency > facts.clock.rate / IRREGULAR_RATE:
        return Verdict("cannot tell", "too fast for irregular times")
    if "sound" in facts.quantities:
        return Verdict("cannot tell", "a sound only")
    return None


def _growing(facts: Facts) -> Verdict | None:
    rise, main = facts.rise, strongest(facts, facts.rising)
    if rise is None or rise.before > QUIET_BEFORE or rise.drift > FAR_DRIFT or starts_at_once(facts):
        return None
    steady = rise.drift <= MOST_DRIFT
    by_line = steady and rise.straightness > STRAIGHTER and rise.cycles >= LONGER and rise.change > LINE_RISE
    grows_along_a_pole = (
        facts.rising is not None
        and main is not None
        and facts.rising.explained >= EXPLAINED
        and facts.rising.damping_ratios[main] < GROWING_DAMPING
        and facts.rising.energies[main] > POLE_SHARE
    )
    by_pole = (
        grows_along_a_pole
        and rise.change > POLE_RISE
        and (steady or (rise.change > FAR_RISE and rise.cycles < FAR_CYCLES))
    )
    return Verdict("growing", "grows along a line") if by_line or by_pole else None


def _sustained(facts: Facts) -> Verdict | None:
    envelope = facts.envelope
    clipped = envelope.kurtosis < CLIPPED_KURTOSIS or facts.flaws.flat_tops
    if facts.cycles < TONE_CYCLES or clipped or abs(envelope.level_change) > TONE_CHANGE:
        return None
    even = envelope.variation < TONE_VARIATION and envelope.kurtosis < TONE_KURTOSIS
    lasting = (
        envelope.variation < LONG_VARIATION and envelope.kurtosis < LONG_KURTOSIS and envelope.memory > LONG_MEMORY
    )
    return Verdict("sustained", "a steady tone") if even or lasting else None


def starts_at_once(facts: Facts) -> bool:
    """Tell whether the greatest swing comes out of nothing, or is the first thing recorded."""
    return facts.fall.peak <= 0.05 * facts.tracks.values.shape[1] or facts.fall.before < MOST_BEFORE


def _dying(facts: Facts) -> Verdict | None:
    fall, swings = facts.fall, facts.falling
    falls = fall.fall > LEAST_FALL and fall.quarters > LEAST_QUARTERS
    if swings is None or not starts_at_once(facts) or not falls or swings.explained <= EXPLAINED:
        return None
    strong = (swings.energies > COUNTS_FROM) & (swings.poles.imag > 0.0)
    swinging = swings.frequencies > 0.5 * facts.frequency
    # What the air shakes on far under the peak does not count; an even swing there does: fall.goes_on.
    heard = swings.last > np.maximum(LAST_LEVEL, LAST_SHARE * swings.greatest)
    goes_on = swinging & (swings.damping_ratios < DYING_DAMPING) & heard
    if not strong.any() or (swings.damping_ratios[strong] <= DYING_DAMPING).any() or goes_on.any() or fall.goes_on:
        return None
    if grows_under(facts) is not None:
        return Verdict("cannot tell", "a swing grows under the decay")
    if goes_on_under(facts) is not None:
        return Verdict("cannot tell", "a swing goes on under the decay")
    return Verdict("dying out", "falls along damped swings")


def _changing(facts: Facts) -> Verdict | None:
    envelope = facts.envelope
    changes = abs(envelope.level_change) > LEVEL_CHANGE or envelope.variation > UNEVEN or envelope.kurtosis > PEAKED
    return Verdict("cannot tell", "the level changes") if changes else None


def _held_in_turbulence(facts: Facts) -> Verdict | None:
    small = facts.small
    if small is None:
        return None
    least = LEAST_GROWTH * 2.0 * np.pi * facts.frequency
    grows = small.fading.surely > SURE and small.fading.bend > BENT and small.fading.growth > least
    return Verdict("sustained", "small motion grows") if grows and small.powers.surely > SECOND_SURE else None


def _short(facts: Facts) -> Verdict | None:
    if facts.cycles < RANDOM_CYCLES:
        return Verdict("cannot tell", "too few cycles for a random motion")
    if facts.looks < LEAST_LOOKS:
        return Verdict("cannot tell", "too few independent looks")
    return None


def _bent(facts: Facts) -> Verdict | None:
    if facts.gaussian is not None and facts.gaussian <= UNUSUAL:
        return Verdict("cannot tell", "not a simple shaken structure")
    return None


def _irregular(facts: Facts) -> Verdict | None:
    envelope = facts.envelope
    random = (
        envelope.variation > RANDOM_VARIATION
        and envelope.kurtosis > RANDOM_KURTOSIS
        and envelope.memory <= RANDOM_MEMORY
    )
    return Verdict("irregular", "as turbulence or buffeting makes it") if random else None
