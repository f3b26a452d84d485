"""The name of the chosen place in the picture of onsets: its number, speed and band, clear of what is written."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hingeline_app.figures.lettering import Box, Ground, Label, text_width
from hingeline_app.figures.onset.model import ChosenPlace, Frame, OnsetCurve, OnsetSample
from hingeline_app.figures.svg import Drawing, Point
from hingeline_app.figures.wording import speed_number
from hingeline_app.figures.writing import write_labels
from hingeline_app.said import say

ROW, BALLOON = 20.0, 13.0
# Beside the point itself, and far under it, last: only where all between is written on or crossed by the line.
BELOW_THE_POINT = (44.0, 34.0, 64.0, 84.0, 104.0, 124.0, 144.0, 24.0, 14.0, 4.0, 164.0, 184.0)


def name_chosen(
    drawing: Drawing, written: Ground, frame: Frame, curve: OnsetCurve, place: ChosenPlace, colour: str
) -> None:
    """Write number, speed and band beside the point, on the side and at the height where they hide least."""
    (x, y), (heads, words) = where(place.sample, frame), _lines(place.sample, curve.unit, frame)
    found = _side_and_size(x, words, frame, _grounds_of_growth(place.sample, curve, frame))
    side, role = found or (_wider_side(x, frame), "measure")
    roles = [role] * heads + [""] * (len(words) - heads)
    at = [_named_at((x + side * (BALLOON + 10.0), height), side, roles, words, colour) for height in _heights(y, frame)]
    free = [each for each in at if _stands_alone(written, *each)] or at
    stretches = _stretches_of(curve, frame)
    centre, labels = next((each for each in free if not _hides(stretches, each[1])), free[0])
    if place.number:
        drawing.circle(centre, BALLOON, f"balloon-filled {colour}".strip())
        drawing.text(centre[0], centre[1] + 5.5, str(place.number), "strong reversed", "middle")
    write_labels(drawing, labels, plates_below=frame.top)


def _lines(sample: OnsetSample, unit: str, frame: Frame) -> tuple[int, tuple[str, ...]]:
    """Give the lines of a name, said, and how many of them are large: halves where one finds no room on either side."""
    first, *rest = (say(each) for each in chosen_words(sample, unit))
    if sample.speed is not None or _side_and_size(where(sample, frame)[0], (first, *rest), frame):
        return 1, (first, *rest)
    heads = _halves(first)
    return len(heads), (*heads, *(half for each in rest for half in _halves(each)))


def _halves(words: str) -> tuple[str, ...]:
    """Break a line at the space next to its middle."""
    places = [at for at, sign in enumerate(words) if sign == " "]
    if not places:
        return (words,)
    middle = min(places, key=lambda at: abs(at - len(words) / 2))
    return words[:middle], words[middle + 1 :]


def _wider_side(x: float, frame: Frame) -> float:
    """Choose the side of which less is lost, where neither has the room that words want."""
    return 1.0 if frame.x.right - x > x - frame.x.left else -1.0


def _side_and_size(
    x: float, words: tuple[str, ...], frame: Frame, growth: tuple[float, ...] = ()
) -> tuple[float, str] | None:
    """Choose the side of a point that has room for its words, and smaller words where neither has; none for neither.

    Where growth was found is only written over by "no growth found" where no side and no size is clear of it.
    """
    sides = list(_sides_with_room(x, words, frame))
    clear = ((side, role) for side, role, reach in sides if not any(0.0 < side * (each - x) < reach for each in growth))
    return next(clear, sides[0][:2] if sides else None)


def _sides_with_room(x: float, words: tuple[str, ...], frame: Frame) -> Iterator[tuple[float, str, float]]:
    """Give side, size and reach of the words that find room, large ones first and the right side first."""
    for role in ("headline", "measure"):
        wide = max(text_width(words[0], role), *(text_width(each) for each in words[1:]), 0.0)
        reach = BALLOON + 24.0 + 1.12 * wide
        if x + reach < frame.x.right:
            yield 1.0, role, reach
        if x - reach + 0.12 * wide > frame.x.left:
            yield -1.0, role, reach


def _grounds_of_growth(sample: OnsetSample, curve: OnsetCurve, frame: Frame) -> tuple[float, ...]:
    """Give where growth was found, of a place at which none was: there nobody may read that none was found."""
    if sample.speed is not None or sample.from_the_start:
        return ()
    return tuple(frame.x.x(each.x) for each in curve.samples if each.speed is not None or each.from_the_start)


def _heights(y: float, frame: Frame) -> list[float]:
    """Give the heights at which a name may stand, best first."""
    return [min(y + below, frame.bottom - 34.0) for below in BELOW_THE_POINT]


def _named_at(
    centre: Point, side: float, roles: list[str], words: tuple[str, ...], colour: str
) -> tuple[Point, tuple[Label, ...]]:
    start, anchor = centre[0] + side * (BALLOON + 7.0), "start" if side > 0.0 else "end"
    rows = enumerate(zip(words, roles, strict=True))
    return centre, tuple(
        Label(each, start, centre[1] + 4.0 + row * ROW, role, anchor, colour if role else "")
        for row, (each, role) in rows
    )


def _stands_alone(written: Ground, centre: Point, labels: tuple[Label, ...]) -> bool:
    balloon = Box(centre[0] - BALLOON, centre[1] - BALLOON, centre[0] + BALLOON, centre[1] + BALLOON)
    return all(written.is_free(label) for label in labels) and not any(balloon.meets(each) for each in written.taken)


def _stretches_of(curve: OnsetCurve, frame: Frame) -> list[Box]:
    """Give the ground that each piece of the curve runs over."""
    points = [frame.point(each.x, each.speed) for each in curve.samples if each.speed is not None]
    return [Box(x, min(y, to_y) - 2.0, to_x, max(y, to_y) + 2.0) for (x, y), (to_x, to_y) in pairwise(points)]


def _hides(stretches: list[Box], labels: tuple[Label, ...]) -> bool:
    return any(label.box.meets(stretch) for label in labels for stretch in stretches)


def where(sample: OnsetSample, frame: Frame) -> Point:
    """Return where a place is marked: on the curve, at the foot of a hatch, or where growth has no onset."""
    if sample.speed is not None:
        return frame.point(sample.x, sample.speed)
    return frame.x.x(sample.x), frame.bottom if sample.from_the_start else frame.top + BALLOON + 4.0


def chosen_words(sample: OnsetSample, unit: str = "kn") -> tuple[str, ...]:
    """Say the onset of a sample and its band."""
    if sample.from_the_start:
        return ("grows at every speed",)
    if sample.speed is None:
        return ("no growth found", "here only, not proof")
    named = f"{speed_number(sample.speed, unit)} {unit}"
    if sample.low is None:
        return (named,)
    low = speed_number(sample.low, unit, "down")
    if sample.high is None:
        return named, f"{low} … none found"
    return named, f"{low} … {speed_number(sample.high, unit, 'up')}"
