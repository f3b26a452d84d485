"""An aeroplane from above, nose up, with its movable surfaces as places to tap; fin and rudder are laid flat.

It is nobody's aeroplane: a low wing, a tailplane, a fin. A balloon ties each place to its row in the list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import quoteattr

from hingeline_app.figures.svg import Drawing, Point, polyline, printable

WIDTH, HEIGHT = 348.0, 372.0
MIDDLE = WIDTH / 2.0
LEAST_TARGET = 48.0

FUSELAGE = (
    "M174 10C186 10 192 40 193 78L194 150C193 190 184 226 181 268"
    "H167C164 226 155 190 154 150L155 78C156 40 162 10 174 10z"
)
CANOPY = "M174 92C183 92 186 104 186 122C186 142 182 154 174 154C166 154 162 142 162 122C162 104 165 92 174 92z"
WING_SHAPE = ((10.0, 100.0), (156.0, 92.0), (192.0, 92.0), (338.0, 100.0), (340.0, 122.0), (338.0, 130.0),
              (190.0, 150.0), (158.0, 150.0), (10.0, 130.0), (8.0, 122.0))  # fmt: skip
TAILPLANE = ((100.0, 232.0), (167.0, 226.0), (181.0, 226.0), (248.0, 232.0), (250.0, 250.0), (98.0, 250.0))
FIN = ((166.0, 292.0), (182.0, 292.0), (180.0, 330.0), (168.0, 330.0))

# The right side's surfaces, each a trapezium; the left one is its mirror.
RIGHT_SHAPES: dict[str, tuple[Point, ...]] = {
    "aileron": ((262.0, 122.0), (338.0, 117.0), (338.0, 130.0), (262.0, 140.5)),
    "flap": ((196.0, 130.0), (258.0, 124.0), (258.0, 141.0), (196.0, 149.5)),
    "elevator": ((178.0, 250.0), (250.0, 250.0), (248.0, 268.0), (184.0, 270.0)),
    "all-moving tail": ((181.0, 226.0), (248.0, 232.0), (250.0, 250.0), (248.0, 262.0), (181.0, 266.0)),
    "aileron tab": ((272.0, 134.0), (300.0, 130.5), (300.0, 135.5), (272.0, 139.0)),
    "elevator tab": ((196.0, 263.0), (226.0, 262.0), (226.0, 268.5), (196.0, 269.5)),
}
MIDDLE_SHAPES: dict[str, tuple[Point, ...]] = {
    "rudder": ((150.0, 332.0), (198.0, 332.0), (194.0, 362.0), (154.0, 362.0)),
    "rudder tab": ((162.0, 354.0), (186.0, 354.0), (185.0, 362.0), (163.0, 362.0)),
}
# Where the balloon of a place stands, right side.
BALLOONS: dict[str, Point] = {
    "aileron": (302.0, 164.0),
    "flap": (228.0, 176.0),
    "elevator": (272.0, 272.0),
    "all-moving tail": (272.0, 246.0),
    "aileron tab": (262.0, 190.0),
    "elevator tab": (222.0, 298.0),
    "rudder": (222.0, 346.0),
    "rudder tab": (126.0, 346.0),
}


@dataclass(frozen=True, slots=True)
class PlanPlace:
    """A surface in the picture.

    Parameters
    ----------
    kind, side : str
        Such as ``elevator`` or ``elevator tab``; ``left``, ``right``, or empty for both or the middle.
    number : int
        The balloon that ties it to the list.
    name : str
        As the list says it.
    chosen : bool
    address : str
        Where a tap leads; empty for a picture that is only looked at.
    key : str
        What a script knows the place by.
    """

    kind: str
    side: str
    number: int
    name: str
    chosen: bool = False
    address: str = ""
    key: str = ""


def has_place(kind: str, side: str) -> bool:
    """Tell whether the picture has a place for a surface of this kind on this side."""
    return kind in MIDDLE_SHAPES or kind in RIGHT_SHAPES


def draw_aeroplane_plan(places: Sequence[PlanPlace], finding: str) -> str:
    """Draw the aeroplane with its surfaces as SVG text.

    Parameters
    ----------
    places : sequence of PlanPlace
        Tabs after the surfaces that carry them: what comes later lies on top.
    finding : str
        What the picture says, in words. With places to tap the list beside it says the same, and the
        picture is left to those who see it.
    """
    drawing = Drawing(WIDTH, HEIGHT, finding)
    drawing.path(polyline(WING_SHAPE, True), "open-thin")
    drawing.path(polyline(TAILPLANE, True), "open-thin")
    drawing.path(FUSELAGE, "open-thin")
    drawing.path(CANOPY, "thin")
    drawing.path(polyline(FIN, True), "open-thin")
    drawing.line((MIDDLE, 4.0), (MIDDLE, HEIGHT - 4.0), "chain-thin")
    for place in sorted(places, key=lambda each: each.kind.endswith("tab")):
        drawing.elements.append(_place(place))
    drawn = drawing.finished("aeroplane-plan")
    if not any(place.address for place in places):
        return drawn
    return drawn.replace('role="img"', 'aria-hidden="true" focusable="false"', 1)


def _place(place: PlanPlace) -> str:
    """Draw one surface with its balloon; both halves where it has no side."""
    shapes, balloon = _shapes(place)
    layer = Drawing(WIDTH, HEIGHT, "")
    for shape in shapes:
        if place.address and not place.kind.endswith("tab"):
            _target(layer, shape)
        layer.path(polyline(shape, True), "region")
    near = min((point for shape in shapes for point in _edges(shape)), key=lambda at: _apart(at, balloon))
    layer.line(near, balloon, "thin")
    if place.address:
        layer.add("circle", "touch", cx=balloon[0], cy=balloon[1], r=LEAST_TARGET / 2.0)
    layer.circle(balloon, 14.0, "balloon")
    layer.text(balloon[0], balloon[1] + 5.5, str(place.number), "strong", "middle")
    inner = "".join(layer.elements)
    classes = "place chosen" if place.chosen else "place"
    if not place.address:
        return f'<g class="{classes}">{inner}</g>'
    key, address, name = (quoteattr(printable(each)) for each in (place.key, place.address, place.name))
    return f'<a class="{classes}" href={address} data-place={key} data-name={name} tabindex="-1">{inner}</a>'


def _shapes(place: PlanPlace) -> tuple[list[tuple[Point, ...]], Point]:
    if place.kind in MIDDLE_SHAPES:
        return [MIDDLE_SHAPES[place.kind]], BALLOONS[place.kind]
    right, balloon = RIGHT_SHAPES[place.kind], BALLOONS[place.kind]
    left = tuple((2.0 * MIDDLE - x, y) for x, y in right)
    if place.side == "left":
        return [left], (2.0 * MIDDLE - balloon[0], balloon[1])
    return ([right] if place.side == "right" else [left, right]), balloon


def _target(layer: Drawing, shape: Sequence[Point]) -> None:
    """Put a rectangle that a finger finds under a slim surface."""
    xs, ys = [x for x, _y in shape], [y for _x, y in shape]
    width, height = max(LEAST_TARGET, max(xs) - min(xs)), max(LEAST_TARGET, max(ys) - min(ys))
    left, top = (min(xs) + max(xs) - width) / 2.0, (min(ys) + max(ys) - height) / 2.0
    layer.rectangle(left, top, width, height, "touch")


def _edges(shape: Sequence[Point]) -> list[Point]:
    """Give the middles of a shape's edges."""
    following = [*shape[1:], shape[0]]
    return [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in zip(shape, following, strict=True)]


def _apart(one: Point, other: Point) -> float:
    return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2
