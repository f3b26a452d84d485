"""Why the statement was made, what would make it surer, and what must be read with it: sentences."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hingeline.motion import rules
from hingeline.motion.facts import Facts
from hingeline.motion.flaws import LEAST_IN_ONE_DIRECTION, REPEATED_FROM
from hingeline.motion.model import Recording
from hingeline.motion.phase import PhaseFacts
from hingeline.motion.under_a_decay import goes_on_under, grows_under
from hingeline.motion.verdict import Verdict

CAUTIONS = (
    "An estimate from one recording. The rules were tried on simulated recordings only, never on a real one.",
    "Flutter can break an aircraft within seconds. If anything moved in flight that should not, the aircraft "
    "stays on the ground until a qualified person has found why.",
    "Never make it happen again to record it better, and never fly faster for it.",
    "Nothing here shows that an aircraft is free of flutter, at this speed or at another.",
)
MEANINGS = {
    "growing": "The motion feeds itself: it grows at a steady rate, as flutter does.",
    "sustained": "Treat it as self-excited until a drive at exactly this frequency is shown.",
    "irregular": "The motion looks as turbulence or buffeting makes it; self-excitation is not excluded.",
    "dying out": "The motion died out, at the airspeed and the amplitude of this recording only.",
    "cannot tell": "The recording does not say what it is; self-excitation is not excluded.",
}
UNTRIED = "Intervals were tried on simulated decays, growths and drives; of a random or unclear motion none is given."
NO_SCALE = (
    "Whether the file plays in true time is not known: frequency and growth are not given. The statement does not "
    "depend on it. State the capture rate, or film a clock."
)
UNCOMPARED = (
    "A limit cycle and a steady drive look alike; without true time no drive can be compared, and none excluded."
)
_WHO_SAYS_SO = {"metadata": "as the file says", "given": "as given"}
BY_ACCELERATION = "Judged in acceleration, which weighs fast motion more than slow."


def reasons_of(facts: Facts, verdict: Verdict) -> tuple[str, ...]:
    """Say in sentences, with the numbers, why the rules say so."""
    return (*_REASONS[verdict.ground](facts), MEANINGS[verdict.statement])


def _grows(facts: Facts) -> Iterator[str]:
    rise = facts.rise
    if rise is not None:
        yield (
            f"The swing grows by {rise.change:.0f} dB over {rise.cycles:.1f} cycles along a line in the logarithm "
            f"(R² {rise.straightness:.3f}), while its frequency changes by {100.0 * rise.drift:.0f} %."
        )
        yield "A gust, a knock or a drive that sweeps through a resonance grows too, but not in this way."


def _tone(facts: Facts) -> Iterator[str]:
    envelope = facts.envelope
    yield (
        f"The envelope varies by {envelope.variation:.2f} of its mean over {facts.cycles:.0f} cycles and the kurtosis "
        f"is {envelope.kurtosis:.2f}: a steady tone."
    )
    if not facts.true_time:
        yield UNCOMPARED
        return
    resolution = 1.0 / facts.length
    yield (
        f"A limit cycle and a steady drive look alike. Compare {facts.frequency:.2f} Hz with engine and propeller "
        f"speed, their halves and the blades' multiples: a difference beyond {resolution:.2g} Hz excludes that drive; "
        "agreement does not prove it."
    )
    yield (
        f"A drive faster than {facts.clock.rate / 2.0:.4g} Hz shows as its shadow: compare its distance to the nearest "
        f"multiple of {facts.clock.rate:.4g} Hz as well."
    )


def _held(facts: Facts) -> Iterator[str]:
    bend = 0.0 if facts.small is None else facts.small.fading.bend
    yield (
        "The envelope alone is that of no steady tone. But with a stiffness that depends on the size of the swing, "
        "the motion would grow where it is small: two laws of that stiffness say so. The stiffness does bend "
        f"(F {bend:.0f})."
    )
    yield "So a small motion grows and the structure holds it: a limit cycle in turbulence."


def _dies(facts: Facts) -> Iterator[str]:
    fall, swings = facts.fall, facts.falling
    explained = 0.0 if swings is None else min(1.0, swings.explained)
    yield (
        f"The motion begins at once and falls by {fall.fall:.0f} dB; damped swings make {100.0 * explained:.0f} % of "
        "it, and each strong one is damped."
    )


def _grows_under(facts: Facts) -> Iterator[str]:
    under = grows_under(facts)
    if under is not None:
        yield (
            f"The greatest swing dies out, but under it another grows by {under.rise.change:.0f} dB over "
            f"{under.rise.cycles:.1f} cycles until the end: self-excited, a gust, or two damped swings that beat."
        )
        yield "Treat it as self-excited until that is excluded."


def _goes_on(facts: Facts) -> Iterator[str]:
    under = goes_on_under(facts)
    if under is not None:
        yield (
            f"The greatest swing dies out, but an even one goes on to the end, at {100.0 * under.share:.1f} % of it: a "
            "drive, a limit cycle, or two damped swings that beat."
        )
        yield "Treat it as self-excited until that is excluded."


def _changes(facts: Facts) -> Iterator[str]:
    envelope = facts.envelope
    yield (
        f"The level changes through the recording ({envelope.level_change:+.0f} dB from the first quarter to the last, "
        f"variation {envelope.variation:.2f}). A passing disturbance, a changing airspeed and a self-excited burst "
        "cannot be told apart so."
    )


def _noise(facts: Facts) -> Iterator[str]:
    yield f"The loudest half second stands {facts.level:.1f} times above the noise; {rules.LEAST_LEVEL:g} are needed."


def _few(facts: Facts) -> Iterator[str]:
    yield f"Only {facts.cycles:.1f} cycles were recorded; {rules.LEAST_TOLD:g} are needed for anything."


def _few_random(facts: Facts) -> Iterator[str]:
    needed = f"{rules.RANDOM_CYCLES:g} are needed"
    yield f"{facts.cycles:.0f} cycles are too few for a motion that is no clear tone: {needed}."


def _few_looks(facts: Facts) -> Iterator[str]:
    yield (
        f"The envelope changes so slowly that the recording shows it afresh only {facts.looks:.1f} times; "
        f"{rules.LEAST_LOOKS:g} are needed."
    )


def _odd(facts: Facts) -> Iterator[str]:
    chance = 0.0 if facts.gaussian is None else 100.0 * facts.gaussian
    yield (
        f"Not the pattern of a simple shaken structure (chance {chance:.0f} %): play, a stiffening spring, a drive or "
        "a limit cycle. Treat it as self-excited until that is excluded."
    )


def _random(facts: Facts) -> Iterator[str]:
    envelope = facts.envelope
    yield (
        f"The envelope varies by {envelope.variation:.2f} of its mean (simple shaking 0.52), the kurtosis is "
        f"{envelope.kurtosis:.2f} and the swing forgets itself within ten cycles ({envelope.memory:.2f})."
    )
    yield "A limit cycle inside strong turbulence can look the same."


def _between(facts: Facts) -> Iterator[str]:
    envelope = facts.envelope
    yield (
        f"Between a tone and an irregular motion: the envelope varies by {envelope.variation:.2f} of its mean, "
        f"kurtosis {envelope.kurtosis:.2f}, likeness after ten cycles {envelope.memory:.2f}."
    )


def _missing(facts: Facts) -> Iterator[str]:
    lost, most = 100.0 * facts.clock.lost, 100.0 * rules.MOST_LOST
    yield f"{lost:.0f} % of the samples are missing; at most {most:.0f} % may be."


def _fast(facts: Facts) -> Iterator[str]:
    if not facts.true_time:
        samples = facts.clock.rate / facts.frequency
        yield f"Only {samples:.1f} samples come to a cycle: it may be the shadow of a faster motion."
        return
    yield (
        f"{facts.frequency:.1f} Hz is too near half the rate of {facts.clock.rate:.1f} samples a second: it may be "
        "the shadow of a faster motion."
    )


def _uneven(facts: Facts) -> Iterator[str]:
    if not facts.true_time:
        samples = facts.clock.rate / facts.frequency
        yield (
            f"The times are uneven or have gaps, and only {samples:.1f} samples come to a cycle where "
            f"{rules.IRREGULAR_RATE:g} are needed: a steady tone would look irregular."
        )
        return
    yield (
        f"The times are uneven or have gaps, and {facts.frequency:.1f} Hz leaves fewer than "
        f"{rules.IRREGULAR_RATE:g} samples to a cycle: a steady tone would look irregular."
    )


def _sound(facts: Facts) -> Iterator[str]:
    yield "A sound gives a frequency. Its loudness is no amplitude: recorders turn it up and down by themselves."


_REASONS: dict[str, Callable[[Facts], Iterator[str]]] = {
    "grows along a line": _grows,
    "a steady tone": _tone,
    "small motion grows": _held,
    "falls along damped swings": _dies,
    "a swing grows under the decay": _grows_under,
    "a swing goes on under the decay": _goes_on,
    "the level changes": _changes,
    "under the noise": _noise,
    "too few cycles": _few,
    "too few cycles for a random motion": _few_random,
    "too few independent looks": _few_looks,
    "not a simple shaken structure": _odd,
    "as turbulence or buffeting makes it": _random,
    "between the patterns": _between,
    "too much is missing": _missing,
    "too fast for the rate": _fast,
    "too fast for irregular times": _uneven,
    "a sound only": _sound,
}
_STOP = "None: this one is enough to stop on. Find the cause on the ground."
_COMPARE = "On the ground: the engine's and the propeller's speed at that moment, to compare with the frequency."
_NEXT: dict[str, tuple[str, ...]] = {
    "grows along a line": (_STOP,),
    "a steady tone": (_COMPARE,),
    "small motion grows": (_STOP,),
    "falls along damped swings": (
        "The same on the ground with three knocks or more, from either side, larger and smaller.",
    ),
    "a swing grows under the decay": (_STOP,),
    "a swing goes on under the decay": (_COMPARE,),
    "the level changes": ("A shorter stretch of the same recording with steady airspeed, cut at its even part.",),
    "under the noise": ("Larger marks, nearer to the camera, in even light; for a ground tap, a firmer tap.",),
    "too few cycles": ("A longer stretch: ten seconds or more.",),
    "too few cycles for a random motion": ("A longer stretch: half a minute of the same steady conditions.",),
    "too few independent looks": ("A longer stretch: a minute of the same steady conditions.",),
    "not a simple shaken structure": (
        "On the ground: the play of the hinge and of the circuit, and the stiffness at small and at larger loads.",
    ),
    "as turbulence or buffeting makes it": (
        "A recording that exists already of the same aircraft in calm air. Slower is the only direction to compare.",
    ),
    "between the patterns": ("Plunge and pitch together, half a minute, in steady conditions.",),
    "too much is missing": ("Marks that stay in the picture, and a camera that keeps its frames.",),
    "too fast for the rate": (
        "A second clip at another frame rate: a true frequency stays, a shadow moves. A higher rate is better.",
    ),
    "too fast for irregular times": ("A higher or a steadier frame rate.",),
    "a sound only": ("A video or a sensor of the moving part; the sound helps to check the video's time scale.",),
}


def next_of(facts: Facts, verdict: Verdict) -> tuple[str, ...]:
    """Say which recording would make the statement surer; none that asks anybody to fly faster."""
    more = []
    if len(facts.quantities) == 1 and "sound" not in facts.quantities and _NEXT[verdict.ground] != (_STOP,):
        more.append("Two motions of the same part together, plunge and pitch: one alone shows no coupling.")
    return (*_NEXT[verdict.ground], *more)


def notes_of(facts: Facts, recording: Recording, phase: PhaseFacts | None, *, stated: bool) -> tuple[str, ...]:
    """Gather what must be known beside the numbers."""
    return (
        *_of_scale(recording),
        *_of_samples(facts),
        *_of_channels(facts, phase),
        *(() if stated else (UNTRIED,)),
    )


def _of_scale(recording: Recording) -> Iterator[str]:
    scale = recording.time_scale
    if scale.true_over_file is None:
        yield NO_SCALE
    elif scale.true_over_file != 1.0:
        yield f"One second of the file is {scale.true_over_file:.4g} true seconds, {_WHO_SAYS_SO[scale.from_]}."


def _of_samples(facts: Facts) -> Iterator[str]:
    clock, flaws = facts.clock, facts.flaws
    if not clock.regular:
        yield (
            f"The times are uneven: steps scatter by {100.0 * clock.jitter:.1f} %, the longest gap is "
            f"{clock.longest_gap:.3g} s, {100.0 * clock.lost:.1f} % are missing. True times were used."
        )
    if flaws.flat_tops:
        yield "The samples have flat tops, as if cut off: that makes a shaken motion look steady, so no tone is read."
    if flaws.repeated > REPEATED_FROM:
        repeated = 100.0 * flaws.repeated
        yield f"{repeated:.0f} % of the samples repeat the one before: the true rate is lower, or the scale is coarse."
    if flaws.one_direction < LEAST_IN_ONE_DIRECTION:
        share = 100.0 * flaws.one_direction
        yield f"The main direction of the sensor holds only {share:.0f} % of the motion: it moves in more than one."


def _of_channels(facts: Facts, phase: PhaseFacts | None) -> Iterator[str]:
    if "acceleration" in facts.quantities:
        yield BY_ACCELERATION
    if phase is None:
        yield "Without plunge and pitch together no phase is given."
    elif phase.lag is None:
        yield "Plunge and pitch do not go together closely enough for a phase."
    elif phase.limit is not None:
        yield f"The camera reads line after line: the phase is no finer than {phase.limit:.0f} deg."
