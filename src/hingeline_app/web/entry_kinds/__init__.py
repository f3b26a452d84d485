"""What can be entered on a job, one kind a name: a tick, a reading, a choice. All go through one address.

A kind is a function that takes what was told and carries it out by one act; the same
entry sent twice is one entry, since its key goes to the write door.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline_app.web.entry_kinds import (
    arm,
    arrive,
    correct,
    every_step,
    limits,
    photographs,
    refit,
    release,
    second_inspection,
    step_state,
    weigh,
)
from hingeline_app.web.entry_kinds.told import Told

EVERYWHERE = (every_step, photographs, step_state)
STEPS = (arrive, limits, weigh, correct, arm, refit, second_inspection, release)
Kind = Callable[[Told], Any]
KINDS: Mapping[str, Kind] = {name: kind for step in EVERYWHERE + STEPS for name, kind in step.KINDS.items()}
