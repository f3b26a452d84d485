"""Judge simulated recordings and count what was said: for the tests, and for the table in the docs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from hingeline.motion import Interval, MotionResult, judge, recording_of
from tests.simulated_motion.kinds import (
    BENT,
    CLEAN,
    DYING,
    HARD,
    KINDS,
    LENGTHS,
    LINEAR_RANDOM,
    SELF_EXCITED,
    Simulated,
    draw_records,
)

HELD_BACK = 20_270_311
"""The seed of every record here; no rule was chosen on it."""
WHOLE, QUARTER = 106, 27
"""Records of each kind: 19 kinds, 2,014 and 513 in all."""
AUDIBLE = 3.0
FED = ("growing", "sustained")
NEW_RULE = "small motion grows"
DRIVEN = ("steady drive", "steady drive from rest", "drive sweeping through resonance")
STATEMENTS = ("growing", "sustained", "irregular", "dying out", "cannot tell")


@dataclass(frozen=True)
class Judged:
    """What was said of one record."""

    kind: str
    signal_to_noise: float
    statement: str
    ground: str
    frequency_held: bool | None
    damping_held: bool | None
    """Whether the interval holds the truth; None where there is no interval or no truth."""


def judged(record: Simulated) -> Judged:
    """Judge one record with both channels."""
    result = judge(recording_of(record.times, {"plunge": record.plunge, "pitch": record.pitch}))
    mode = _mode(record, result)
    frequency = None if mode is None else _held(result.frequency, record.frequencies[mode])
    damping = None if mode is None or not record.dampings else _held(result.damping_ratio, record.dampings[mode])
    return Judged(record.kind, record.signal_to_noise, result.statement, result.ground, frequency, damping)


def _mode(record: Simulated, result: MotionResult) -> int | None:
    """Choose the true mode that the main frequency speaks of: the nearest, of a growth the one that grows."""
    if not record.frequencies or result.frequency is None:
        return None
    if result.statement == "growing" and record.dampings:
        return int(np.argmin(record.dampings))
    return int(np.argmin([abs(each - result.frequency.value) for each in record.frequencies]))


def _held(interval: Interval | None, truth: float) -> bool | None:
    if interval is None or interval.low is None or interval.high is None:
        return None
    return interval.low <= truth <= interval.high


def judge_kinds(kinds: Iterable[str], count: int, seed: int = HELD_BACK) -> list[Judged]:
    """Draw and judge so many records of each kind; the hard kinds last 20 s at 60 samples a second."""
    found = []
    for kind in kinds:
        fixed = kind in HARD or kind in BENT
        records = draw_records(kind, seed, count, (20.0,) if fixed else LENGTHS, 60 if fixed else None)
        found += [judged(record) for record in records]
    return found


def share(records: Iterable[Judged], kinds: Iterable[str], statements: Iterable[str]) -> tuple[int, int]:
    """Count, of the audible records of some kinds, those of which one of some statements was made."""
    heard = [each for each in records if each.kind in kinds and each.signal_to_noise > AUDIBLE]
    return sum(each.statement in statements for each in heard), len(heard)


def coverage(records: Iterable[Judged], statements: Iterable[str]) -> tuple[int, int]:
    """Count intervals, of frequency and of damping, that hold the truth; of rightly judged records."""
    held = [
        each
        for record in records
        if record.statement in statements and _rightly(record)
        for each in (record.frequency_held, record.damping_held)
        if each is not None
    ]
    return sum(held), len(held)


def _rightly(record: Judged) -> bool:
    return record.kind in {"growing": SELF_EXCITED, "dying out": DYING, "sustained": DRIVEN}.get(record.statement, ())


def counts(records: Iterable[Judged], kind: str) -> list[int]:
    """Count the statements made of one kind."""
    made = Counter(each.statement for each in records if each.kind == kind)
    return [made[statement] for statement in STATEMENTS]


def by_the_new_rule(records: Iterable[Judged], kinds: Iterable[str]) -> int:
    """Count what the rule of zero amplitude called sustained."""
    return sum(each.ground == NEW_RULE for each in records if each.kind in kinds)


__all__ = ["BENT", "CLEAN", "DRIVEN", "DYING", "HARD", "KINDS", "LINEAR_RANDOM", "SELF_EXCITED"]
