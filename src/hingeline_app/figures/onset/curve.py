"""The speed at which a motion starts to grow, over what moves the centre of gravity, as SVG.

Nothing is shaded as good. Where the model found no growth the ground is hatched, and the sentence
that says up to where it looked, and that this is no proof, is written in or under the hatch.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.lettering import Ground, Label, text_width
from hingeline_app.figures.onset.model import ChosenPlace, Frame, OnsetCurve, OnsetSample
from hingeline_app.figures.onset.name import BALLOON, ROW, name_chosen, where
from hingeline_app.figures.svg import Drawing, Point, hatching, polyline
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.words_in_hatch import write_in_hatch
from hingeline_app.figures.writing import write_labels

__all__ = ["ChosenPlace", "OnsetCurve", "OnsetSample", "draw_onset_curve"]

LEFT, RIGHT, TOP, BELOW = 48.0, 16.0, 78.0, 68.0
TOP_WITHOUT_SCALE = 36.0
PLOT_HEIGHT, PLOT_HEIGHT_NARROW, NARROW = 340.0, 250.0, 500.0
NAMED = 104.0
"""Room for a speed and its band, right of the place that has them [px]."""
DIVE_MARGIN = 1.2
AIR = 6.0
"""Between a line and the words that begin after it [px]."""
HATCH_FOR_WORDS = 46.0


def draw_onset_curve(curve: OnsetCurve, width: float = 650, plot_height: float = 0.0) -> str:
    """Draw the onset over the scale.

    Parameters
    ----------
    curve : OnsetCurve
    width : float
        The width it will be shown at, in pixels.
    plot_height : float
        Of the plot alone [px]; 0 for what its width asks for.
    """
    height = plot_height or (PLOT_HEIGHT if width >= NARROW else PLOT_HEIGHT_NARROW)
    top = TOP if curve.second_scale else TOP_WITHOUT_SCALE
    tall = top + height + BELOW + ROW * len(curve.told)
    drawing, ground = Drawing(width, tall, curve.finding), Ground(width)
    scale = Axis(curve.samples[0].x, curve.samples[-1].x, LEFT, width - RIGHT)
    frame = Frame(scale, top_speed(curve), top, top + height)
    _draw_band(drawing, curve, frame)
    _draw_scales(drawing, ground, curve, frame)
    _draw_dive_speed(drawing, ground, curve, frame)
    _draw_unfound(drawing, ground, curve, frame)
    _tell(drawing, curve, frame)
    _draw_leads(drawing, curve, frame)
    write_labels(drawing, ground.labels, plates_below=top)
    # Over the names of the dive speeds: long ones reach the line, and no piece of it may be missing.
    _draw_line(drawing, curve, frame)
    _draw_places(drawing, ground, curve, frame)
    return drawing.finished("onset-curve")


def top_speed(curve: OnsetCurve) -> float:
    """Choose where the scale of speed ends [kn]: above the dive speed and above half of the curve."""
    found = sorted(sample.speed for sample in curve.samples if sample.speed is not None)
    wanted = [1.6 * (curve.dive_speed or 0.0), 1.3 * found[len(found) // 2] if found else 0.0]
    wanted += [1.1 * place.sample.speed for place in curve.places if place.sample.speed is not None]
    if curve.told and found:
        # Nothing else says how high the rest lies.
        wanted.append(1.05 * found[-1])
    highest = min(max(wanted), curve.searched) or curve.searched
    step = 50.0 if highest > 120.0 else 10.0
    return step * -(-highest // step)


def _stretches(curve: OnsetCurve, found: bool) -> Iterator[list[OnsetSample]]:
    """Give the runs of neighbouring samples with an onset, or those without."""
    run: list[OnsetSample] = []
    for sample in curve.samples:
        if (sample.speed is not None) == found:
            run.append(sample)
        elif run:
            yield run
            run = []
    if run:
        yield run


def _draw_unfound(drawing: Drawing, ground: Ground, curve: OnsetCurve, frame: Frame) -> None:
    """Hatch where no growth was found, and write there what that means."""
    said = False
    for run in _stretches(curve, found=False):
        if run[0].from_the_start:
            continue
        left, right = _edges(curve, run, frame)
        drawing.path(hatching(left, frame.top, right - left, frame.bottom - frame.top), "hatch")
        if right - left >= HATCH_FOR_WORDS and not said:
            start = max(left, _end_of_names(curve, frame, left))
            free = (start, right, _free_from(ground, frame, (start + right) / 2.0), frame.bottom)
            said = write_in_hatch(drawing, free, _unfound_words(curve))
    if not said and any(sample.speed is None and not sample.from_the_start for sample in curve.samples):
        _say_below(drawing, ground, curve, frame)


def _end_of_names(curve: OnsetCurve, frame: Frame, hatch: float) -> float:
    """Give up to where a chosen place's speed is written, of places left of a hatch."""
    return max(
        (
            frame.x.x(place.sample.x) + NAMED
            for place in curve.places
            if place.chosen and place.sample.speed is not None and frame.x.x(place.sample.x) < hatch
        ),
        default=0.0,
    )


def _free_from(ground: Ground, frame: Frame, middle: float) -> float:
    """Give from where down nothing is written yet that would stand on words run upright there."""
    return max(
        (
            label.y + 6.0
            for label in ground.labels
            if frame.top < label.y < frame.bottom
            and label.x > frame.x.left
            and label.x - text_width(label.words, label.role) < middle + ROW < label.x + ROW
        ),
        default=frame.top,
    )


def _say_below(drawing: Drawing, ground: Ground, curve: OnsetCurve, frame: Frame) -> None:
    """Say under the picture what its hatch means, in two lines where one is too long."""
    first, second = _unfound_words(curve)
    whole = f"hatched: {first} {second}"
    lines = (whole,) if LEFT + text_width(whole, "quiet") < ground.width else (f"hatched: {first}", second)
    for index, words in enumerate(lines):
        ground.put(Label(words, LEFT, frame.bottom + 62.0 + index * ROW, "quiet"))
    drawing.height += ROW * (len(lines) - 1)


def _edges(curve: OnsetCurve, run: list[OnsetSample], frame: Frame) -> tuple[float, float]:
    """Let a hatch reach half way to the neighbours that have an onset."""
    first, last = curve.samples.index(run[0]), curve.samples.index(run[-1])
    before, after = curve.samples[max(first - 1, 0)], curve.samples[min(last + 1, len(curve.samples) - 1)]
    return frame.x.x((before.x + run[0].x) / 2.0), frame.x.x((after.x + run[-1].x) / 2.0)


def _unfound_words(curve: OnsetCurve) -> tuple[str, str]:
    return "model finds no growth", f"up to {format_number(curve.searched, 0)} {curve.unit}: not proof"


def _draw_band(drawing: Drawing, curve: OnsetCurve, frame: Frame) -> None:
    """Draw where most of the scattered cases lie; an open top runs to the edge of the plot."""
    run: list[OnsetSample] = []
    for sample in (*curve.samples, None):
        if sample is not None and sample.low is not None:
            run.append(sample)
            continue
        if len(run) > 1:
            _draw_one_band(drawing, run, frame)
        run = []


def _draw_one_band(drawing: Drawing, run: list[OnsetSample], frame: Frame) -> None:
    top = frame.highest
    low = [frame.point(each.x, min(each.low or 0.0, top)) for each in run]
    high = [frame.point(each.x, top if each.high is None else min(each.high, top)) for each in run]
    drawing.path(polyline([*low, *reversed(high)], closed=True), "wash")
    drawing.path(polyline(_below_top(low, frame)), "dotted")
    for piece in _pieces_below_top(high, frame):
        drawing.path(polyline(piece), "dotted")


def _below_top(points: list[Point], frame: Frame) -> list[Point]:
    return [point for point in points if point[1] > frame.top] or points[:1]


def _pieces_below_top(points: list[Point], frame: Frame) -> Iterator[list[Point]]:
    """Cut a line where it leaves the plot, so that the edge of the plot is not drawn as a result."""
    piece: list[Point] = []
    for point in points:
        if point[1] <= frame.top:
            if len(piece) > 1:
                yield piece
            piece = []
        piece.append(point)
    if len(piece) > 1:
        yield piece


def _draw_line(drawing: Drawing, curve: OnsetCurve, frame: Frame) -> None:
    for run in _stretches(curve, found=True):
        points = [frame.point(each.x, each.speed or 0.0) for each in run]
        for piece in _pieces_below_top(points, frame):
            drawing.path(polyline(piece), "curve")
    for first, second in zip(curve.samples, curve.samples[1:], strict=False):
        if first.from_the_start and second.from_the_start:
            ends = (frame.x.x(first.x), frame.bottom), (frame.x.x(second.x), frame.bottom)
            drawing.line(*ends, "moment out")


def _tell(drawing: Drawing, curve: OnsetCurve, frame: Frame) -> None:
    """Write under a picture that stands alone what it says, and mark what was computed."""
    for index, sentence in enumerate(curve.told):
        drawing.text(frame.x.left, frame.bottom + BELOW + 4.0 + ROW * index, sentence, "" if index else "strong")
    for sample in curve.samples if curve.told else ():
        if sample.speed is not None:
            drawing.circle(frame.point(sample.x, sample.speed), 4.0, "point")


def _draw_scales(drawing: Drawing, ground: Ground, curve: OnsetCurve, frame: Frame) -> None:
    """Draw both scales of the place, and that of speed with its rules."""
    for value in ticks(Axis(0.0, frame.highest, 0.0, 1.0), 6)[0]:
        y = frame.y(value)
        drawing.line((frame.x.left, y), (frame.x.right, y), "axis" if value == 0.0 else "rule")
        ground.put(Label(format_number(value, 0), frame.x.left - 8.0, y + 5.0, "", "end"))
    drawing.line((frame.x.left, frame.bottom), (frame.x.left, frame.top), "axis")
    ground.put(Label(f"{curve.unit} {curve.airspeed} airspeed", 6.0, 20.0, "quiet"))
    _scale(drawing, ground, frame)
    middle = min((frame.x.left + frame.x.right) / 2.0, ground.width - 4.0 - text_width(curve.scale) / 2.0)
    ground.put(Label(curve.scale, middle, frame.bottom + 42.0, "", "middle"))
    if curve.second_scale:
        _second_scale(drawing, ground, curve, frame)
        ground.put(Label(curve.second_scale, frame.x.right, 38.0, "", "end"))


def _second_scale(drawing: Drawing, ground: Ground, curve: OnsetCurve, frame: Frame) -> None:
    """Draw the scale on top, which may run the other way."""
    ends = [curve.second_factor * end + curve.second_offset for end in (frame.x.low, frame.x.high)]
    values, places = ticks(Axis(min(ends), max(ends), 0.0, 1.0), 7)
    drawing.line((frame.x.left, frame.top), (frame.x.right, frame.top), "axis")
    for value in values:
        x = frame.x.x((value - curve.second_offset) / curve.second_factor)
        _tick(drawing, ground, (x, frame.top), -6.0, format_number(value, places) if value else "0")


def _scale(drawing: Drawing, ground: Ground, frame: Frame) -> None:
    values, places = ticks(frame.x, 7)
    drawing.line((frame.x.left, frame.bottom), (frame.x.right, frame.bottom), "axis")
    for value in values:
        place = (frame.x.x(value), frame.bottom)
        _tick(drawing, ground, place, 6.0, format_number(value, places) if value else "0")


def _tick(drawing: Drawing, ground: Ground, place: Point, length: float, words: str) -> None:
    drawing.line(place, (place[0], place[1] + length), "axis")
    label = Label(words, place[0], place[1] + (22.0 if length > 0.0 else -12.0), "", "middle")
    if ground.is_free(label):
        ground.put(label)


def _draw_dive_speed(drawing: Drawing, ground: Ground, curve: OnsetCurve, frame: Frame) -> None:
    if curve.dive_speed is None:
        return
    for factor, classes, words in (
        (1.0, "dive", curve.dive_words),
        (DIVE_MARGIN, "chain", f"{format_number(DIVE_MARGIN, 1)} × dive speed"),
    ):
        speed = factor * curve.dive_speed
        if speed >= frame.highest:
            continue
        y = frame.y(speed)
        drawing.line((frame.x.left, y), (frame.x.right, y), classes)
        # Where both lines lie close the lower one is named beneath itself.
        crowded = factor == 1.0 and y - frame.y(DIVE_MARGIN * speed) < ROW
        beneath = y + 17.0 if crowded else y - 7.0
        ground.put(_named(_namings(words, speed, curve, ground), beneath, curve, frame))


def _namings(words: str, speed: float, curve: OnsetCurve, ground: Ground) -> list[str]:
    """Give what a line of speed may be called, the fullest first."""
    short = words.removeprefix("design ")
    if ground.width < NARROW:
        return [short]
    return [f"{each} {format_number(speed, 0)} {curve.unit}" for each in (words, short)]


def _named(namings: list[str], y: float, curve: OnsetCurve, frame: Frame) -> Label:
    """Name a line at its right end, in fewer words where all of them would lie on the curve."""
    labels = [Label(each, _clear_of_whisker(each, y, curve, frame), y, "strong", "end") for each in namings]
    return next((each for each in labels if not _lies_on_the_curve(each, curve, frame)), labels[-1])


def _lies_on_the_curve(label: Label, curve: OnsetCurve, frame: Frame) -> bool:
    box = label.box
    for run in _stretches(curve, found=True):
        points = [where(sample, frame) for sample in run]
        for (x, y), (further, higher) in pairwise(points):
            left, right = max(x, box.left - AIR), min(further, box.right)
            if left < right:
                ends = [y + (at - x) / (further - x) * (higher - y) for at in (left, right)]
                if min(ends) < box.bottom and max(ends) > box.top:
                    return True
    return False


def _clear_of_whisker(words: str, y: float, curve: OnsetCurve, frame: Frame) -> float:
    """Give where words at the right edge end: before the whisker of the chosen place where it would strike them out."""
    right, wide = frame.x.right - 4.0, text_width(words, "strong")
    for place in curve.places:
        ends = _band_ends(place.sample, frame) if place.chosen else None
        x = where(place.sample, frame)[0]
        struck = ends is not None and right - wide < x + 8.0 and ends[1] < y < ends[0] + 17.0
        if struck and x - 14.0 - wide > frame.x.left:
            return x - 14.0
    return right


def _draw_leads(drawing: Drawing, curve: OnsetCurve, frame: Frame) -> None:
    """Lead from the scale up to the chosen place, under whatever is written there."""
    for place in curve.places:
        if place.chosen:
            x, y = where(place.sample, frame)
            drawing.line((x, frame.bottom), (x, y), "lead")


def _draw_places(drawing: Drawing, written: Ground, curve: OnsetCurve, frame: Frame) -> None:
    """Mark the places that are talked about, the chosen one on top, its name clear of what is written."""
    for place in sorted(curve.places, key=lambda each: each.chosen):
        if place.chosen:
            _draw_chosen(drawing, written, curve, place, frame)
        else:
            _draw_balloon(drawing, place, frame)


def _draw_balloon(drawing: Drawing, place: ChosenPlace, frame: Frame) -> None:
    x, y = where(place.sample, frame)
    drawing.circle((x, y), BALLOON, "balloon")
    drawing.text(x, y + 5.5, str(place.number), "strong", "middle")


def _draw_chosen(drawing: Drawing, written: Ground, curve: OnsetCurve, place: ChosenPlace, frame: Frame) -> None:
    x, y = where(place.sample, frame)
    colour = "out" if is_near_flight(place.sample, curve.dive_speed) else ""
    ends = _band_ends(place.sample, frame)
    if ends:
        drawing.line((x, ends[0]), (x, ends[1]), f"whisker {colour}".strip())
        for end in ends:
            drawing.line((x - 8.0, end), (x + 8.0, end), f"whisker {colour}".strip())
    drawing.circle((x, y), 7.0, f"point {colour}".strip())
    name_chosen(drawing, written, frame, curve, place, colour)


def _band_ends(sample: OnsetSample, frame: Frame) -> tuple[float, float] | None:
    if sample.low is None:
        return None
    top = frame.highest
    high = top if sample.high is None else min(sample.high, top)
    return frame.point(sample.x, min(sample.low, top))[1], frame.point(sample.x, high)[1]


def is_near_flight(sample: OnsetSample, dive_speed: float | None) -> bool:
    """Tell whether growth may start below 1.2 times the dive speed; with no dive speed given, whether it starts."""
    if sample.from_the_start:
        return True
    lowest = sample.low if sample.low is not None else sample.speed
    return lowest is not None and (dive_speed is None or lowest < DIVE_MARGIN * dive_speed)
