"""The series of ``hingeline motion onset``: several files, each with its airspeed or weight."""

from __future__ import annotations

from hingeline.errors import InputRefused, Refusal
from hingeline.motion import OnsetTask, Recording, RecordingAt
from hingeline.units import read
from hingeline_app.cli.motion_reading import Reader

ONE_SPEED = 0.03
"""Part of a speed within which columns of several files show the same: no two knocks meet it to the last digit."""


def series_of(names: tuple[str, ...], reader: Reader, against: str, given: tuple[str, ...]) -> OnsetTask:
    """Put the files of a series together, each with its speed or weight."""
    recordings = []
    for index, name in enumerate(names):
        recording = reader.read(name)
        if given:
            dimension, option = ("speed", "--airspeed") if against == "airspeed" else ("mass", "--weight")
            at = float(read(given[index], dimension, field=option))
        else:
            at = _own_airspeed(recording, name)
        recordings.append(RecordingAt(at, recording))
    if not given:
        recordings = _at_one_speed(recordings)
    return OnsetTask(tuple(recordings), "weight" if against == "weight" else "airspeed")


def _at_one_speed(recordings: list[RecordingAt]) -> list[RecordingAt]:
    """Put files whose own airspeeds are next to the same at the mean of these, in the order that they came in."""
    groups: list[list[float]] = []
    for at in sorted(each.at for each in recordings):
        if groups and at <= (1.0 + ONE_SPEED) * groups[-1][0]:
            groups[-1].append(at)
        else:
            groups.append([at])
    mean = {at: sum(group) / len(group) for group in groups for at in group}
    return [RecordingAt(mean[each.at], each.recording) for each in recordings]


def _own_airspeed(recording: Recording, name: str) -> float:
    """Take the airspeed from the file's own column: its mean, if it hardly changes."""
    known = [speed for speed in recording.airspeed or () if speed is not None]
    if not known:
        remedy = 'Add a column airspeed_m_s, or write --airspeed "62 kn" once for each file.'
        raise InputRefused.of("airspeed", name, "a file with its airspeed", remedy)
    mean = sum(known) / len(known)
    if max(known) - min(known) > 0.1 * mean:
        shown = f"{min(known):.4g} to {max(known):.4g} m/s in {name}"
        raise InputRefused.of("airspeed", shown, "a steady airspeed in each file", "Cut out a steady part.")
    return mean


def faults_of_series(count: int, airspeeds: tuple[str, ...], against: str, weights: tuple[str, ...]) -> list[Refusal]:
    """Name what is wrong with the numbers beside the files: one for each, of one kind."""
    given, option = (airspeeds, "--airspeed") if against == "airspeed" else (weights, "--weight")
    other = weights if against == "airspeed" else airspeeds
    if other:
        return [Refusal("--against", against, "what the files differ in", "Give speeds or weights, and say which.")]
    if against == "weight" and not weights:
        return [Refusal("--weight", "missing", f"{count}, one for each file", 'Write --weight "0 g" and so on.')]
    if given and len(given) != count:
        return [Refusal(option, f"{len(given)} of them", f"{count}, one for each file", "In the order of the files.")]
    return []
