"""A small writer of SVG: elements with classes, escaped text, numbers kept short.

There is deliberately no way to give an element a style or a colour. Arrowheads and hatches are
drawn as plain paths: nothing refers to an id, so any number of pictures may share a page.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from hingeline_app.said import say

Point = tuple[float, float]


def number(value: float) -> str:
    """Write a coordinate with at most one hundredth of a pixel."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def printable(text: str) -> str:
    """Leave out what XML forbids: control characters, halves of surrogate pairs."""
    return "".join(
        " " if character in "\t\r\n" else character
        for character in text
        if character in "\t\r\n"
        or (character >= " " and not "\ud800" <= character <= "\udfff" and character < "\ufffe")
        or character >= "\U00010000"
    )


@dataclass(slots=True)
class Drawing:
    """A picture that grows element by element.

    Parameters
    ----------
    width, height : float
        In pixels; the width is the one it is shown at, so that type keeps its size.
    finding : str
        What the picture says, in words: for those who do not see it.
    """

    width: float
    height: float
    finding: str
    elements: list[str] = field(default_factory=list)

    def add(self, tag: str, classes: str, **attributes: float | str) -> None:
        """Add one empty element; attribute names use ``_`` for ``-``."""
        self.elements.append(f"<{tag}{_attributes(classes, attributes)}/>")

    def line(self, start: Point, end: Point, classes: str) -> None:
        """Add a straight line."""
        self.add("line", classes, x1=start[0], y1=start[1], x2=end[0], y2=end[1])

    def rectangle(self, left: float, top: float, width: float, height: float, classes: str, **more: float) -> None:
        """Add an upright rectangle; one of no width is left out."""
        if width > 0.0 and height > 0.0:
            self.add("rect", classes, x=left, y=top, width=width, height=height, **more)

    def circle(self, centre: Point, radius: float, classes: str) -> None:
        """Add a circle."""
        self.add("circle", classes, cx=centre[0], cy=centre[1], r=radius)

    def path(self, commands: str, classes: str) -> None:
        """Add a path."""
        self.add("path", classes, d=commands)

    def text(self, x: float, y: float, words: str, classes: str = "", anchor: str = "start") -> None:
        """Add one line of text, its base line at ``y``."""
        attributes = _attributes(classes, {"x": x, "y": y, "text_anchor": anchor})
        self.elements.append(f"<text{attributes}>{escape(printable(say(words)))}</text>")

    def group(self, inner: str, transform: str, classes: str = "") -> None:
        """Add ready-made elements, moved by ``transform``."""
        self.elements.append(f"<g{_attributes(classes, {'transform': transform})}>{inner}</g>")

    def finished(self, classes: str = "") -> str:
        """Return the whole picture as SVG text."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" class={quoteattr(("drawing " + classes).strip())} '
            f'viewBox="0 0 {number(self.width)} {number(self.height)}" '
            f'width="{number(self.width)}" height="{number(self.height)}" '
            f'role="img" aria-label={quoteattr(printable(say(self.finding)))}>'
        )
        return head + "".join(self.elements) + "</svg>"


def _attributes(classes: str, attributes: dict[str, float | str]) -> str:
    written = [f" class={quoteattr(classes)}"] if classes else []
    for name, value in attributes.items():
        text = value if isinstance(value, str) else number(value)
        written.append(f" {name.replace('_', '-')}={quoteattr(text)}")
    return "".join(written)


def polyline(points: Iterable[Point], closed: bool = False) -> str:
    """Write the path through ``points``."""
    steps = [f"{number(x)} {number(y)}" for x, y in points]
    return "M" + "L".join(steps) + ("z" if closed else "")


def arrowhead(tip: Point, direction: Point, length: float, width: float) -> str:
    """Write a solid head whose point is ``tip``, pointing along ``direction``."""
    size = math.hypot(*direction) or 1.0
    along, across = (direction[0] / size, direction[1] / size), (-direction[1] / size, direction[0] / size)
    back = (tip[0] - along[0] * length, tip[1] - along[1] * length)
    half = width / 2.0
    left = (back[0] + across[0] * half, back[1] + across[1] * half)
    right = (back[0] - across[0] * half, back[1] - across[1] * half)
    return polyline([tip, left, right], closed=True)


def hatching(left: float, top: float, width: float, height: float, step: float = 10.0) -> str:
    """Write strokes at 45° that fill a rectangle and stay inside it.

    The strokes lie on one grid over the whole picture, so that neighbouring hatches join.
    """
    right, bottom = left + width, top + height
    strokes: list[str] = []
    offset = math.ceil((left + top) / step) * step
    while offset < right + bottom:
        start_x, end_x = max(left, offset - bottom), min(right, offset - top)
        if end_x - start_x > 0.01:
            strokes.append(polyline([(start_x, offset - start_x), (end_x, offset - end_x)]))
        offset += step
    return "".join(strokes)


def smooth(points: Sequence[Point]) -> str:
    """Write cubic pieces through groups of three points after the first."""
    rest = [f"{number(x)} {number(y)}" for x, y in points[1:]]
    pieces = ["C" + " ".join(rest[index : index + 3]) for index in range(0, len(rest), 3)]
    return f"M{number(points[0][0])} {number(points[0][1])}" + "".join(pieces)
