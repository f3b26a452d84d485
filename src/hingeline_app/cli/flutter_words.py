"""What a flutter document says, in sentences: the page and the plot have the same words. Never a good one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.flutter.solve import FREE_AND_UNSTABLE
from hingeline_app.figures.wording import format_number, format_range, places_for, shared_places, with_unit

Document = Mapping[str, Any]

KNOT = 1852.0 / 3600.0
SLACK_LEFT_OUT = (
    "The file states free play, which is not computed here: every number is for springs without slack. Slack can keep "
    "a motion going far below the speed at which growth starts without it."
)
AT_EVERY_SPEED = "something grows at every speed that was looked at"
"""How the library's note says it, where the motions that grow take turns."""
UNDER_THE_FINDING = (SLACK_LEFT_OUT, FREE_AND_UNSTABLE)


def figures(value: float, unit: str, digits: int = 4) -> str:
    """Write a number to so many significant digits, no zero left out."""
    return with_unit(format_number(value, max(0, places_for(value, digits))), unit)


def speed_text(speed: float) -> str:
    """Write a speed in m/s."""
    return figures(speed, "m/s")


def knots_text(speed: float) -> str:
    """Write a speed in knots."""
    return figures(speed / KNOT, "kn")


def both_speeds(speed: float) -> str:
    """Write a speed in m/s and in knots, and which airspeed it is."""
    return f"{speed_text(speed)} ({knots_text(speed)} true airspeed)"


def range_text(document: Document) -> str:
    """Write the range that was searched."""
    low, high = (each["value"] for each in document["speeds"])
    return f"{format_range(low, high, 'm/s', shared_places([low, high], most=3))} true airspeed"


def something_grows(document: Document) -> bool:
    """Tell whether the model found growth of any kind, swinging or one way."""
    unheld = FREE_AND_UNSTABLE in document["notes"]
    found = document["flutter"] or document["divergence"] or document["growing_at_lowest_speed"]
    return bool(found) or unheld


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
    sentences += [note for note in UNDER_THE_FINDING if note in document["notes"]]
    return [*sentences, "An estimate by a model of the numbers in the file. Model, not proof."]


def motion_words(onset: Document) -> str:
    """Say how the motion that starts to grow looks."""
    frequency, mode = figures(onset["frequency"]["value"], "Hz"), onset["mode"]
    return f"At {frequency}, mode {mode['number']} counted by frequency: {mode['words']}."
