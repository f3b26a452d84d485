"""What must be read with an onset, and why there is none: sentences."""

from __future__ import annotations

from hingeline.motion.onset_model import OnsetRange, OnsetTask

CAUTIONS = (
    "An estimate from recordings, tried on simulated sections only. The onset cannot be excluded from the lower end "
    "on; these data do not show safety at any speed, flown or not.",
    "Never fly faster to improve it. The lower end usually lies at about the last speed flown: then no margin above "
    "it can be shown, and that is the result.",
    "Play, another mass, fuel, balance weight or altitude moves the onset; play also makes it depend on amplitude, "
    "which the margin does not see.",
)
_REFUSED = {
    "weight": "Against weight no speed is computed: look at between which weights the motion stops.",
    "play": "Free play above its limits was recorded: it moves the onset to lower speeds and makes it depend on the "
    "size of the motion, which the margin does not see.",
    "changed": "Something else changed between the recordings: mass, fuel, balance weight or altitude. Their margins "
    "do not belong to one line.",
    "already there": "A recording grows or is sustained: the onset is already there. Stop, and find the cause.",
    "under a decay": "Under the decay of a knock a swing grows or goes on: the onset may be there already. "
    "Stop, and find the cause.",
    "few speeds": "Only {} speeds; {} are needed.",
    "few knocks": "Only {} knocks with two readable modes at {:.4g} m/s; {} are needed at each speed.",
    "no trend": "The margin at the last speed still stands above 80 % of its largest: no trend to read yet. That is no "
    "sign of distance from the onset.",
    "no zero": "The margins scatter so much that most draws find no onset at all: nothing can be said.",
}
SAME = "Equivalent airspeeds are taken for granted, and that nothing but the airspeed changed between the recordings."
STATED = "Equivalent airspeeds are taken for granted. That nothing else changed between the recordings was stated."
NO_PLAY = "Free play was not stated: above its limits no onset speed could be given."
WIDE = "The interval is too wide for an upper end to mean anything: only its lower end is given."
NEVER = "Damping against speed is listed and drawn, never extrapolated: it often still rises close below the onset."
BENCH = "Seen between two weights that were tried, with what held the surface on the bench; not a limit for flight."


def refused_words(reason: str, *values: float) -> str:
    """Say why no onset is given."""
    if reason == "few knocks":
        good, least, at = values
        return _REFUSED[reason].format(int(good), at, int(least))
    return _REFUSED[reason].format(*values)


def notes_of(task: OnsetTask, onset: OnsetRange | None) -> tuple[str, ...]:
    """Gather the notes of a series."""
    if task.against == "weight":
        return (BENCH,)
    play = () if task.play != "not stated" else (NO_PLAY,)
    wide = () if onset is None or onset.high is not None else (WIDE,)
    return (STATED if task.rest == "the same" else SAME, *play, NEVER, *wide)
