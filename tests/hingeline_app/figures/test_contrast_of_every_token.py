"""Contrast of every colour token, in every light, on each ground that it is used on.

Source: Web Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation: relative luminance and contrast ratio as
defined there; 4.5 : 1 for type (success criterion 1.4.3, level AA) and 3 : 1 for lines, frames and signs (1.4.11).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files

import pytest

from hingeline_app.figures.style import LIGHTS, Light, tokens

TYPE, LINES = 4.5, 3.0
VIEWS = ("sheet", "paper")
WASHES = ("near-wash", "out-wash", "line-wash")
# Ground by ground, what is written or drawn on it.
TYPE_ON = {
    **dict.fromkeys(VIEWS, ("ink", "ink2", "line", "out", "near")),
    "near-wash": ("ink", "near"),
    "out-wash": ("ink",),
    "line-wash": ("ink", "ink2", "line"),
    "line-mid": ("ink",),
    "ink": ("sheet", "paper"),
    "out": ("sheet",),
    "rail": ("rail-ink",),
}
LINES_ON = {
    **dict.fromkeys(VIEWS, ("edge", "line", "out", "near", "ink", "ink2")),
    "line-wash": ("ink", "out", "near", "line"),
    "near-wash": ("near", "ink"),
    "rail": ("rail-ink",),
}
# A rule between the rows of a table, and the room of a ruler: nothing is known by them that words do not say.
DECORATION = {"rule"}
# Codes that a camera reads and marks on a photograph are the same in every light: on white, whatever is around.
OF_NO_LIGHT = {"#fff", "#a3260e", "#10202e", "#0008"}
SHEETS = {
    each.name: each.read_text(encoding="utf-8")
    for place in (files("hingeline_app.web") / "static" / "web", files("hingeline_app.figures"))
    for each in place.iterdir()
    if each.name.endswith(".css") and each.name != "type.css"
}
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
# The parts of a knob and of a bar of progress: they hold no words, so they are drawn as lines are.
DRAWN = re.compile(r"::(?:-webkit-slider-thumb|-moz-range-thumb|-webkit-progress-value|-moz-progress-bar)$")
SETS = re.compile(r"(?:^|;)\s*(color|background|background-color|fill|stroke)\s*:\s*var\(--([a-z0-9-]+)\)")


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, definitions."""
    parts = [int(colour[start : start + 2], 16) / 255.0 for start in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2, definitions."""
    dark, bright = sorted((luminance(one), luminance(other)))
    return (bright + 0.05) / (dark + 0.05)


def mixed(over: str, ground: str, share: float) -> str:
    """Give the colour that is seen when one lies over another with this share of it opaque."""
    pairs = [(int(over[at : at + 2], 16), int(ground[at : at + 2], 16)) for at in (1, 3, 5)]
    return "#" + "".join(f"{round(share * one + (1.0 - share) * other):02X}" for one, other in pairs)


def colours(light: Light) -> dict[str, str]:
    return {name: value for name, value in tokens(light).items() if value.startswith("#")}


def rules() -> Iterator[tuple[str, dict[str, str]]]:
    """Every rule of every sheet with the colour tokens that it sets."""
    for name, sheet in SHEETS.items():
        for selector, body in RULE.findall(sheet):
            found = dict(SETS.findall(body))
            if found:
                yield f"{name}: {selector.strip()}", found


def test_the_formula_gives_the_ratios_that_are_known() -> None:
    """Black on white is 21 : 1, and #767676 on white just above 4.5 : 1 (W3C, Understanding 1.4.3 and its failures)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0, abs=1e-12)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#FFFFFF") < 4.5


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize(("needed", "uses"), [(TYPE, TYPE_ON), (LINES, LINES_ON)], ids=["type", "lines"])
def test_every_token_has_its_contrast_on_every_ground(
    light: Light, needed: float, uses: dict[str, tuple[str, ...]]
) -> None:
    """Each ink on each ground that it stands on, by number."""
    look = colours(light)
    found = {
        f"{ink} on {ground}": round(contrast(look[ink], look[ground]), 2)
        for ground, inks in uses.items()
        for ink in inks
    }
    assert {use: ratio for use, ratio in found.items() if ratio < needed} == {}


def test_no_token_is_left_out() -> None:
    """Every colour of the token file stands in the tables above, as an ink or a ground, or is decoration by name."""
    stands = {name for uses in (TYPE_ON, LINES_ON) for ground, inks in uses.items() for name in (ground, *inks)}
    for light in LIGHTS:
        assert set(colours(light)) - DECORATION == stands


def test_no_rule_of_a_page_uses_a_token_in_a_way_that_was_not_computed() -> None:
    """What a rule takes as ink or ground is in the tables; where it takes both, the two stand together there."""
    written = {ink for inks in TYPE_ON.values() for ink in inks}
    faults = []
    for where, found in rules():
        ink, ground = found.get("color"), found.get("background") or found.get("background-color")
        if ink and ink not in written:
            faults.append(f"{where}: type in {ink}")
        if ground and DRAWN.search(where):
            faults += [] if all(ground in LINES_ON[view] for view in VIEWS) else [f"{where}: drawn in {ground}"]
        elif ground and ground not in TYPE_ON and ground not in DECORATION:
            faults.append(f"{where}: ground {ground}")
        if ink and ground and ink not in TYPE_ON.get(ground, ()):
            faults.append(f"{where}: {ink} on {ground}")
    assert faults == []


def test_colours_come_from_the_tokens_alone() -> None:
    """No sheet names a colour of its own, but for what has to be the same in every light."""
    named = {each for sheet in SHEETS.values() for each in re.findall(r"#[0-9a-fA-F]{3,8}\b", sheet)}
    assert named <= OF_NO_LIGHT


@pytest.mark.parametrize("light", LIGHTS)
def test_what_is_shown_faintly_can_still_be_read(light: Light) -> None:
    """A result from before the waiting entries is drawn faintly: its ink is still 4.5 : 1 on its sheet."""
    shares = {float(each) for sheet in SHEETS.values() for each in re.findall(r"opacity:(0?\.\d+)", sheet)}
    look = colours(light)
    assert shares
    for share in shares:
        assert contrast(mixed(look["ink"], look["sheet"], share), look["sheet"]) >= TYPE, share
