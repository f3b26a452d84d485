"""Helpers of these tests: read a picture back, and find the ground that its words cover."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ElementTree

from hingeline_app.figures.lettering import ROLES, Box, Label

NAMESPACE = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def of_class(root: ElementTree.Element, tag: str, name: str) -> list[ElementTree.Element]:
    return [element for element in root.iter(NAMESPACE + tag) if name in element.get("class", "").split()]


def number(element: ElementTree.Element, name: str) -> float:
    return float(element.get(name, "nan"))


def texts(root: ElementTree.Element) -> list[str]:
    return [element.text or "" for element in root.iter(NAMESPACE + "text")]


def labels(root: ElementTree.Element) -> list[Label]:
    """Give the level labels; those in a turned group stand elsewhere than their numbers say."""
    turned = {
        text
        for group in root.iter(NAMESPACE + "g")
        if "rotate" in group.get("transform", "")
        for text in group.iter(NAMESPACE + "text")
    }
    found = []
    for element in set(root.iter(NAMESPACE + "text")) - turned:
        role = next((name for name in element.get("class", "").split() if name in ROLES), "")
        anchor = element.get("text-anchor", "start")
        found.append(Label(element.text or "", number(element, "x"), number(element, "y"), role, anchor))
    return found


def overlapping(root: ElementTree.Element) -> list[tuple[str, str]]:
    """Return every pair of texts that share ground: capitals and digits, without the tails below."""
    pairs = itertools.combinations(labels(root), 2)
    return [(one.words, other.words) for one, other in pairs if _inked(one).meets(_inked(other))]


def _inked(label: Label) -> Box:
    box, size = label.box, ROLES[label.role][1]
    return Box(box.left, label.y - 0.70 * size, box.right, label.y)


def outside(root: ElementTree.Element) -> list[str]:
    """Return the texts that leave the picture."""
    _, _, width, height = (float(part) for part in root.get("viewBox", "").split())
    return [
        label.words
        for label in labels(root)
        if label.box.left < -0.5 or label.box.right > width + 0.5 or label.y > height or label.box.top < -1.0
    ]
