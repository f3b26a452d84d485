"""Putting labels on paper: words, the small arrows that stand for directions, plates under words."""

from __future__ import annotations

from collections.abc import Iterable

from hingeline_app.figures.lettering import ROLES, Label, text_width
from hingeline_app.figures.svg import Drawing

TO_LEFT, TO_RIGHT = "◂ ", " ▸"
_ARROW = 8.0


def write_labels(drawing: Drawing, labels: Iterable[Label], plates_below: float | None = None) -> None:
    """Write labels; those whose base line lies below ``plates_below`` get a plate of paper under them."""
    for label in labels:
        if plates_below is not None and label.y > plates_below:
            draw_plate(drawing, label)
        _write(drawing, label)


def draw_plate(drawing: Drawing, label: Label) -> None:
    """Clear the ground under a label, so that no line runs through its words."""
    box = label.box
    drawing.rectangle(box.left - 4.0, box.top, box.right - box.left + 8.0, box.bottom - box.top, "plate")


def _write(drawing: Drawing, label: Label) -> None:
    """Write one label; its arrow is drawn, since a font that lacks it would change the whole line."""
    words, left = label.words, label.box.left
    y = label.y - 0.34 * ROLES[label.role][1]
    if words.startswith(TO_LEFT):
        drawing.path(f"M{left:.2f} {y:.2f}l{_ARROW} -4.2v8.4z", f"direction {label.colour}".strip())
        words = words.removeprefix(TO_LEFT)
        left = label.box.right - text_width(words, label.role)
        drawing.text(left, label.y, words, label.classes)
    elif words.endswith(TO_RIGHT):
        drawing.path(f"M{label.box.right:.2f} {y:.2f}l-{_ARROW} -4.2v8.4z", f"direction {label.colour}".strip())
        drawing.text(label.box.right - _ARROW - 5.0, label.y, words.removesuffix(TO_RIGHT), label.classes, "end")
    else:
        drawing.text(label.x, label.y, words, label.classes, label.anchor)
