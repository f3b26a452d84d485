"""What a flutter document says, in sentences: the page and the plot have the same words. Never a good one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.flutter.slack_answer import SLACK
from hingeline.flutter.solve import FREE_AND_UNSTABLE
from hingeline_app.figures.wording import Toward, format_number, format_range, places_for, shared_places, with_unit

Document = Mapping[str, Any]

DIVERGED = "Already diverged at"
"""How the library's note on a divergence below the range begins."""
KNOT = 1852.0 / 3600.0
AT_EVERY_SPEED = "something grows at every speed that was looked at"
"""How the library's note says it, where the motions that grow take turns."""


def figures(value: float, unit: str, digits: int = 4, toward: Toward | None = None) -> str:
    """Write a number to so many significant digits, no zero left out."""
    return with_unit(format_number(value, max(0, places_for(value, digits)), toward), unit)


def speed_text(speed: float, toward: Toward | None = None) -> str:
    """Write a speed in m/s."""
    return figures(speed, "m/s", toward=toward)


def knots_text(speed: float, toward: Toward | None = None) -> str:
    """Write a speed in knots."""
    return figures(speed / KNOT, "kn", toward=toward)


def both_speeds(speed: float, toward: Toward | None = None) -> str:
    """Write a speed in m/s and in knots, and which airspeed it is."""
    return f"{speed_text(speed, toward)} ({knots_text(speed, toward)} true airspeed)"


def range_text(document: Document) -> str:
    """Write the range that was searched."""
    low, high = (each["value"] for each in document["speeds"])
    return f"{format_range(low, high, 'm/s', shared_places([low, high], most=3))} true airspeed"


def something_grows(document: Document) -> bool:
    """Tell whether the model found growth of any kind: swinging, one way, or kept going by slack."""
    unheld = FREE_AND_UNSTABLE in document["notes"]
    kept_going = any(each["outcome"] != "dies out" for each in document["limit_cycles"] or ())
    found = document["flutter"] or document["divergence"] or document["growing_at_lowest_speed"] or kept_going
    diverged = any(note.startswith(DIVERGED) for note in document["notes"])
    return bool(found) or unheld or diverged


def headline(document: Document) -> str:
    """Say the finding in one line."""
    if document["growing_at_lowest_speed"]:
        return _grows_from_the_start(document)
    if document["flutter"] is not None:
        return f"Growth starts at {both_speeds(document['flutter']['speed']['value'])}"
    top = both_speeds(document["speeds"][1]["value"])
    if something_grows(document):
        return f"Model finds no growing oscillation up to {top}, but see below: not proof"
    return f"Model finds no growth up to {top}: not proof"


def _grows_from_the_start(document: Document) -> str:
    low, high = (each["value"] for each in document["speeds"])
    never_out = all(each["direction"] == "into" for each in document["crossings"])
    if never_out or any(AT_EVERY_SPEED in note for note in document["notes"]):
        return f"Something grows at every speed searched, from {speed_text(low)} to {both_speeds(high)}"
    return f"A motion grows already at {both_speeds(low)}, the lowest speed searched"


def under_the_headline(document: Document) -> list[str]:
    """Say what belongs to the finding: the motion, and whatever else grows or was left out."""
    sentences = []
    if document["flutter"] is not None:
        sentences.append(motion_words(document["flutter"]))
    if document["divergence"] is not None:
        at = both_speeds(document["divergence"]["speed"]["value"])
        sentences.append(f"Divergence, growth without swinging, at {at}.")
    sentences += filter(belongs_to_the_finding, document["notes"])
    return [*sentences, "An estimate by a model of the numbers in the file. Model, not proof."]


def belongs_to_the_finding(note: str) -> bool:
    """Tell whether a note must be read with the first line: other ways to move, and to be turned away."""
    return note == FREE_AND_UNSTABLE or note.startswith((SLACK, DIVERGED))


def motion_words(onset: Document) -> str:
    """Say how the motion that starts to grow looks."""
    frequency, mode = figures(onset["frequency"]["value"], "Hz"), onset["mode"]
    return f"At {frequency}, mode {mode['number']} counted by frequency: {mode['words']}."
