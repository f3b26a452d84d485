"""Names of surfaces: their kind and side, their place in the picture, the order of work, what limits assume fitted."""

from __future__ import annotations

import pytest

from hingeline_app.bench.arriving.as_fitted import AGREES, DIFFERS, NOT_SAID, assumed_by, compared
from hingeline_app.bench.arriving.order_of_work import advice, in_order_of_work
from hingeline_app.bench.arriving.plan_of import places_of
from hingeline_app.bench.arriving.surface_kinds import SurfaceKind, kind_of, same_surface
from hingeline_app.figures.hangar.aeroplane_plan import draw_aeroplane_plan


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Elevator, left half", SurfaceKind("elevator", "left")),
        ("Elevator tab", SurfaceKind("tab", "", "elevator")),
        ("RH aileron", SurfaceKind("aileron", "right")),
        ("Höhenruder links", SurfaceKind("elevator", "left")),
        ("Seitenruder", SurfaceKind("rudder")),
        ("Gouverne de direction", SurfaceKind("rudder")),
        ("Flap, starboard", SurfaceKind("flap", "right")),
    ],
)
def test_a_name_says_kind_and_side(name: str, kind: SurfaceKind) -> None:
    assert kind_of(name) == kind


def test_a_name_that_says_no_kind_has_no_place_and_is_no_other_surface() -> None:
    assert kind_of("Spoiler 3") is None
    assert places_of(["Spoiler 3"]) == ()
    assert not same_surface("Spoiler 3", "Spoiler 4")
    assert same_surface("spoiler  3", "Spoiler 3")


def test_a_tab_comes_before_its_surface_and_halves_stand_together() -> None:
    names = ["Rudder", "Elevator, right half", "Aileron, left", "Elevator tab", "Spoiler 3", "Elevator, left half"]
    assert in_order_of_work((name, name) for name in names) == [
        "Aileron, left", "Elevator tab", "Elevator, left half", "Elevator, right half", "Rudder", "Spoiler 3",
    ]  # fmt: skip
    assert advice(names) == ["tab first", "halves together"]
    assert advice(["Rudder", "Elevator tab"]) == []


def test_what_the_limits_assume_is_held_against_what_was_found() -> None:
    """A row that says "without static wicks" differs from wicks that are fitted; what neither names is left out."""
    assert assumed_by("tab, pushrod and seals; without static wicks, paint dry") == {
        "tab": "fitted", "pushrod": "fitted", "seals": "fitted", "wicks": "off",
    }  # fmt: skip
    found = {"tab": "fitted", "pushrod": "off", "wicks": "none"}
    said = {each.item: each.finding for each in compared("tab, pushrod, seals, without static wicks", found)}
    assert said == {"tab": AGREES, "pushrod": DIFFERS, "wicks": AGREES, "seals": NOT_SAID}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("without tab and pushrod", {"tab": "off", "pushrod": "off"}),
        ("tab and pushrod removed", {"tab": "off", "pushrod": "off"}),
        ("without tab and with pushrod", {"tab": "off", "pushrod": "fitted"}),
        ("tab fitted and pushrod removed", {"tab": "fitted", "pushrod": "off"}),
        ("without static wicks, seals", {"wicks": "off"}),
        ("without static wicks; seals", {"wicks": "off", "seals": "fitted"}),
        ("tab, pushrod disconnected", {"tab": "fitted", "pushrod": "off"}),
        ("tab at neutral and pushrod disconnected", {"pushrod": "off"}),
        ("static wicks not installed", {"wicks": "off"}),
        ("tab not removed", {}),
        ("tab and seal no. 4, bolts with less than 1 mm play", {"tab": "fitted", "seals": "fitted", "bolts": "fitted"}),
        ("w/o tab", {"tab": "off"}),
        ("mit tab, ohne wicks", {"tab": "fitted", "wicks": "off"}),
        # Told as off by the word after it, and as fitted by the comma after it.
        ("tab without pushrod", {"tab": "fitted", "pushrod": "off"}),
        ("tab, pushrod and wicks removed", {"pushrod": "off", "wicks": "off"}),
        ("with tab, seals and pushrod disconnected", {"tab": "fitted", "seals": "off", "pushrod": "off"}),
    ],
)
def test_without_holds_for_all_that_and_joins_and_what_reads_both_ways_is_not_said(
    text: str, said: dict[str, str]
) -> None:
    """The first two told a pushrod as fitted that the limits leave out; what is not said, a person reads."""
    assert assumed_by(text) == said


def test_the_picture_marks_what_was_chosen_and_ties_each_place_to_its_row() -> None:
    """Both elevator halves and the rudder; the chosen one carries its class, each its number; no script, no style."""
    names = ["Elevator, left half", "Elevator, right half", "Rudder", "Spoiler 3"]
    places = places_of(names, frozenset({"Rudder"}), {name: f"?surface={number}" for number, name in enumerate(names)})
    drawn = draw_aeroplane_plan(places, "The aircraft from above.")
    assert drawn.count('<a class="place"') == 2
    assert drawn.count('<a class="place chosen"') == 1
    assert 'href="?surface=2"' in drawn
    assert ">4<" not in drawn
    assert "style" not in drawn
    assert 'aria-hidden="true"' in drawn
    assert 'role="img"' in draw_aeroplane_plan(places_of(names), "Surfaces: three.")
