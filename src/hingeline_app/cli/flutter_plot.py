"""From a flutter document to its picture: damping and frequency over speed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hingeline_app.cli.flutter_words import headline, under_the_headline
from hingeline_app.figures.damping.speed_curves import (
    CurvePoint,
    ModeCurve,
    NeutralMark,
    SpeedCurves,
    draw_speed_curves,
)
from hingeline_app.figures.style import embedded

Document = Mapping[str, Any]

WIDTH = 650.0
LEAP, DAMPING_LEAP = 0.15, 0.25
"""Between two speeds side by side: of the mode's highest frequency, and of damping; more is another motion."""


def speed_curves_svg(document: Document) -> str:
    """Draw the roots of a document that has them, as a picture that stands alone."""
    low, high = (each["value"] for each in document["speeds"])
    onset = document["flutter"]
    curves = SpeedCurves(
        low,
        high,
        tuple(mode_curves(document["roots"])),
        tuple(
            NeutralMark(each["speed"]["value"], each["frequency"]["value"], each["direction"] == "into")
            for each in document["crossings"]
        ),
        None if onset is None else onset["speed"]["value"],
        tuple(filter(None, (document["name"], f"{headline(document)}.", *under_the_headline(document)))),
    )
    return embedded(draw_speed_curves(curves, WIDTH))


def mode_curves(roots: Sequence[Document]) -> Iterator[ModeCurve]:
    """Gather the roots of each mode over speed, broken where it is missing or becomes another motion."""
    for number in sorted({root["mode"] for row in roots for root in row["roots"]}):
        points = [_point(row, number) for row in roots]
        leap = LEAP * max(point.frequency for point in points if point is not None)
        runs: list[list[CurvePoint]] = []
        for before, point in zip([None, *points], points, strict=False):
            if point is None:
                continue
            if before is None or _is_another(before, point, leap):
                runs.append([])
            elif before.damping * point.damping < 0.0:
                runs[-1].append(_neutral(before, point))
            runs[-1].append(point)
        yield ModeCurve(number, tuple(map(tuple, runs)))


def _point(row: Document, number: int) -> CurvePoint | None:
    for root in row["roots"]:
        if root["mode"] == number:
            return CurvePoint(row["speed"]["value"], root["frequency"]["value"], root["damping_ratio"])
    return None


def _is_another(before: CurvePoint, point: CurvePoint, leap: float) -> bool:
    return abs(before.frequency - point.frequency) > leap or abs(before.damping - point.damping) > DAMPING_LEAP


def _neutral(before: CurvePoint, point: CurvePoint) -> CurvePoint:
    """Give the point between two at which a line of damping passes zero, so that growth is drawn from there."""
    part = before.damping / (before.damping - point.damping)
    speed, frequency = (
        one + part * (other - one) for one, other in ((before.speed, point.speed), (before.frequency, point.frequency))
    )
    return CurvePoint(speed, frequency, 0.0)
