"""Lights, the one rule sheet, and how both reach a picture."""

from __future__ import annotations

import re

import pytest

from hingeline_app.figures import BeamPicture, LimitBar, draw_beam, draw_limit_bar, embedded, on_paper, stylesheet
from hingeline_app.figures.style import LIGHTS, Light, resolved_rules, status_class, tokens
from tests.hingeline_app.figures.reading_svg import parsed

SVG = draw_beam(BeamPicture(trailing_edge=0.3, moment=1.0, moment_text="1 N·m tail-heavy", statement="inside"))


@pytest.mark.parametrize("light", LIGHTS)
def test_every_token_of_the_rules_exists_in_every_light(light: Light) -> None:
    assert "var(" not in resolved_rules(light)
    assert set(tokens(light)) == set(tokens("day"))


def test_the_page_sheet_names_tokens_and_every_light() -> None:
    css = stylesheet("day")
    assert "var(--ink)" in css
    for light in LIGHTS:
        assert f':root[data-light="{light}"]' in css


def test_on_paper_no_ground_is_tinted_and_the_rest_is_as_in_the_sun() -> None:
    """A printer makes a grid of dots of a tint; lines and words are those of the sun."""
    paper, sun = tokens("paper"), tokens("sun")
    grounds = {name for name in sun if name.endswith(("-wash", "-mid")) or name in ("paper", "sheet")}
    assert {paper[name] for name in grounds} == {"#FFFFFF"}
    assert {name for name in sun if paper[name] != sun[name]} <= grounds
    assert sun["line-mid"] not in on_paper(SVG)


def test_an_embedded_picture_is_xml_with_its_own_style_and_no_variable() -> None:
    root = parsed(embedded(SVG, "sun"))
    assert root[0].tag.endswith("style")
    assert "var(" not in (root[0].text or "")
    assert "#000000" in (root[0].text or "")


def test_a_picture_refers_to_no_id_so_that_any_number_may_share_a_page() -> None:
    for svg in (SVG, draw_limit_bar(LimitBar(1.0, 0.1, 0.0, 2.0, 0.1, 1.9, "inside"))):
        assert " id=" not in svg
        assert "url(" not in svg
        assert "href" not in svg


def test_every_class_used_in_a_picture_has_a_rule_or_is_known_to_need_none() -> None:
    rules = resolved_rules("day")
    used = {name for element in parsed(SVG).iter() for name in element.get("class", "").split()}
    assert {name for name in used if f".{name}" not in rules} <= {"beam"}


def test_there_is_no_green() -> None:
    for light in LIGHTS:
        for name, value in tokens(light).items():
            if re.fullmatch(r"#[0-9A-F]{6}", value):
                red, green, blue = (int(value[start : start + 2], 16) for start in (1, 3, 5))
                assert green <= max(red, blue) + 8, name


def test_each_statement_has_its_class_and_an_unknown_one_has_no_colour() -> None:
    statements = ("inside", "outside", "too close to tell", None, "good")
    assert [status_class(statement) for statement in statements] == ["in", "out", "near", "none", "none"]
