"""What a video shows, with what is doubted of it: the motion room's statement, held back where nothing can be told."""

from __future__ import annotations

import math
from dataclasses import replace

from hingeline.motion.marks.results import SectionTracks
from hingeline.motion.results import MotionResult
from hingeline.motion.solve import judge
from hingeline.motion.words import MEANINGS

SELF_EXCITED = ("growing", "sustained")


def judge_section(section: SectionTracks) -> MotionResult:
    """Say what the tracks of a video show.

    Parameters
    ----------
    section : SectionTracks

    Returns
    -------
    MotionResult
        As :func:`hingeline.motion.judge` gives it; its notes carry what is doubted and how well places were
        measured. One doubt that forbids every conclusion makes the statement "cannot tell", without numbers;
        a motion that would have been called self-excited is said to, for a bad video is no reassurance.

    Raises
    ------
    InputRefused
        As :func:`hingeline.motion.judge`.
    """
    result = judge(section.recording)
    notes = (*result.notes, *_how_well(section), *(d.sentence for d in section.doubts if d.weight == "wider"))
    result = replace(result, notes=notes)
    grave = tuple(doubt.sentence for doubt in section.doubts if doubt.weight == "cannot tell")
    return _held_back(result, grave) if grave else result


def _held_back(result: MotionResult, grave: tuple[str, ...]) -> MotionResult:
    """Take statement and numbers back, and keep the warning that they were."""
    warned: tuple[str, ...] = ()
    if result.statement in SELF_EXCITED:
        warned = (
            f'By the rules alone it would be called "{result.statement}": treat it as self-excited until a better '
            "recording shows something else.",
        )
    return replace(
        result,
        statement="cannot tell",
        ground="the video",
        frequency=None,
        frequency_per_file_second=None,
        damping_ratio=None,
        growth_rate=None,
        phase=None,
        phase_limit=None,
        coherence=None,
        # The statement hangs on the doubt now, not on what was measured.
        evidence=tuple(replace(one, role="shown") for one in result.evidence),
        reasons=(*grave, *warned, MEANINGS["cannot tell"]),
    )


def _how_well(section: SectionTracks) -> tuple[str, ...]:
    """Say how well a single value is known."""
    parts = []
    for name, value in (("pitch", section.pitch_uncertainty), ("control angle", section.surface_uncertainty)):
        if value is not None:
            parts.append(f"{name} {math.degrees(value):.2g}°")
    if section.plunge_uncertainty is not None:
        parts.append(f"plunge {1000.0 * section.plunge_uncertainty:.2g} mm")
    return (f"Standard uncertainty of one value, estimated from the marks themselves: {', '.join(parts)}.",)
