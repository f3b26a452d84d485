"""Which checks ahead are told to the owner of a surface: by whole words, and never another surface's."""

from __future__ import annotations

import pytest

from hingeline_app.bench.due_again import is_named

OTHERS = ("Elevator, right half", "Elevator tab", "Rudder", "Rudder tab", "Fin", "Tab")

LEFT = "Elevator, left half"


@pytest.mark.parametrize(
    ("text", "surface", "told"),
    [
        ("Elevator, left half: hinge pins", LEFT, True),
        ("Elevator hinge pins: renew", LEFT, True),
        ("Elevators: drain holes", LEFT, True),
        ("Rudder, elevator: drain holes", LEFT, True),
        ("Balance-weight arm: crack check", LEFT, True),
        ("Arm: crack check", LEFT, False),
        ("Elevator, right half: hinge pins", LEFT, False),
        ("Elevator tab: free play", LEFT, False),
        ("Rudder balance", LEFT, False),
        ("Rudder balance", "Rudder", True),
        ("Rudder tab: free play", "Rudder", False),
        ("Rudder tab: balance", "Rudder", False),
        ("Rudder tab: free play", "Rudder tab", True),
        ("Rudder and rudder tab: drain holes", "Rudder", True),
        ("Horizontal stabilizer: attachment", "Tab", False),
        ("Tabs: free play", "Tab", True),
        ("Final inspection after painting", "Fin", False),
        ("Ambalance pump", "Fin", False),
        ("Querruderlager: Spiel", "Querruder, links", True),
        ("Massenausgleich: Riss", "Höhenruder", True),
        ("Équilibrage de la gouverne", "Gouverne de profondeur", True),
    ],
)
def test_a_check_is_told_where_its_words_name_the_surface(text: str, surface: str, told: bool) -> None:
    """A part of a word is no name: "tab" stands in "stabilizer"; the other half is another surface."""
    assert is_named(text, surface, [each for each in OTHERS if each != surface]) is told
