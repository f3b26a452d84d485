"""The signature pictures look as they did: each is rendered and compared with a picture kept beside this test.

After a change that is meant: ``HINGELINE_REFERENCES=yes pytest tests/browser/test_reference_pictures.py``, and look at
every picture of ``tests/browser/reference`` that changed.
"""

from __future__ import annotations

import base64
import math
import os
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from hingeline_app.figures import draw_beam, draw_limit_bar, embedded
from hingeline_app.figures.hangar.due_signs import draw_ruler
from hingeline_app.figures.motion.evidence_strip import EvidenceStrip, draw_evidence_strip
from hingeline_app.figures.motion.section_in_motion import draw_section_in_motion
from hingeline_app.figures.onset.curve import draw_onset_curve
from tests.browser.pictures_alike import alike, worst_patch
from tests.doors.checkouts import ROOT
from tests.hingeline_app.figures.test_beam import DEMO as BEAM
from tests.hingeline_app.figures.test_limit_bar import DEMO as BAR
from tests.hingeline_app.figures.test_onset_curve import CURVE
from tests.hingeline_app.figures.test_section_in_motion import MOTION

pytestmark = [pytest.mark.browser, pytest.mark.slow]

KEPT = Path(__file__).with_name("reference")
FONTS = ROOT / "src" / "hingeline_app" / "web" / "static" / "vendor" / "barlow"
TIMES = [step / 50.0 for step in range(200)]
GROWTH, CIRCULAR = 0.84, 2.0 * math.pi * 3.2
STRIP = EvidenceStrip(
    finding=("Growing", "feeds itself, as flutter does"),
    quantity="pitch, degrees",
    times=TIMES,
    values=[0.4 * math.exp(GROWTH * time) * math.sin(CIRCULAR * time) for time in TIMES],
    envelope=[0.4 * math.exp(GROWTH * time) for time in TIMES],
    start=1.0,
    stop=3.5,
    line=(0.4 * math.exp(GROWTH), 0.4 * math.exp(3.5 * GROWTH)),
    grows=True,
    portrait=[(math.cos(step / 8.0) * step / 200.0, math.sin(step / 8.0) * step / 200.0) for step in range(200)],
    portrait_words=("plunge", "pitch"),
    remark="winds outward",
)
DRAWN: dict[str, Callable[[], str]] = {
    "beam": lambda: draw_beam(BEAM),
    "beam-phone": lambda: draw_beam(BEAM, 348),
    "limit-bar": lambda: draw_limit_bar(BAR),
    "limit-bar-phone": lambda: draw_limit_bar(BAR, 348),
    "onset-curve": lambda: draw_onset_curve(CURVE),
    "section-in-motion": lambda: draw_section_in_motion(MOTION),
    "evidence-strip": lambda: draw_evidence_strip(STRIP),
    "ruler": lambda: draw_ruler("overdue", 1.12, "1.12 of the interval"),
}
# What makes an edge softer or harder and moves nothing: another smoothing of type, a third of a pixel.
SOFTER = "svg{text-rendering:geometricPrecision;transform:translate(.3px,.3px)}"


def font_faces() -> str:
    """Give our own fonts in the sheet itself: the page that renders has no server."""
    rules = []
    for path in sorted(FONTS.glob("*-latin-[567]00-normal.woff2")):
        family = "Barlow Semi Condensed" if "semi-condensed" in path.name else "Barlow"
        weight = re.findall(r"-(\d00)-", path.name)[0]
        data = base64.b64encode(path.read_bytes()).decode()
        rules.append(
            f'@font-face{{font-family:"{family}";font-weight:{weight};src:url(data:font/woff2;base64,{data})}}'
        )
    return "".join(rules)


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """A page of a fixed size, with our fonts and no motion."""
    context = browser.new_context(viewport={"width": 900, "height": 700}, device_scale_factor=1)
    yield context.new_page()
    context.close()


def rendered(page: Page, svg: str, rule: str = "") -> bytes:
    """Render a picture by day, standing at the start of its motion."""
    page.set_content(f"<style>{font_faces()}body{{margin:8px;background:#FAF9F4}}{rule}</style>{embedded(svg, 'day')}")
    page.evaluate("async () => { await document.fonts.ready; const svg = document.querySelector('svg');"
                  " svg.pauseAnimations(); svg.setCurrentTime(0); }")  # fmt: skip
    return page.screenshot()


def kept(picture: bytes) -> bytes:
    """Give a picture in sixteen colours, as it is kept."""
    out = BytesIO()
    with Image.open(BytesIO(picture)) as seen:
        seen.convert("RGB").quantize(16, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


@pytest.mark.parametrize("name", DRAWN)
def test_each_signature_picture_looks_as_it_did(page: Page, name: str) -> None:
    """No patch of 16 by 16 pixels shows more of another picture than smoothing can."""
    now, path = rendered(page, DRAWN[name]()), KEPT / f"{name}.png"
    if os.environ.get("HINGELINE_REFERENCES"):
        KEPT.mkdir(exist_ok=True)
        path.write_bytes(kept(now))
    assert alike(now, path.read_bytes()), worst_patch(now, path.read_bytes())


@pytest.mark.parametrize("name", DRAWN)
def test_the_smoothing_of_edges_is_no_other_picture(page: Page, name: str) -> None:
    """Another smoothing of type and a third of a pixel stay below the bound."""
    svg = DRAWN[name]()
    assert alike(rendered(page, svg), rendered(page, svg, SOFTER))


@pytest.mark.parametrize("name", DRAWN)
def test_a_line_moved_by_two_pixels_is_another_picture(page: Page, name: str) -> None:
    """Of each picture one line, path or box is moved by two pixels, and nothing else: it is noticed."""
    svg = DRAWN[name]()
    assert not alike(rendered(page, svg), rendered(page, moved(svg)))


def moved(svg: str) -> str:
    """Move one stroke of a picture by two pixels, across and down."""
    strokes = [each for each in re.finditer(r"<(path|line|rect|circle)(?= )[^>]*class=\"([^\"]*)\"", svg)]
    lines = ("limit-line", "whisker", "force", "curve", "outline", "orbit", "axis")
    at = next(each for name in lines for each in strokes if name in each[2].split())
    return f'{svg[: at.end(1)]} transform="translate(2 2)"{svg[at.end(1) :]}'


def test_a_reading_more_moves_the_beam() -> None:
    """The beam of another mass is another text, so that the test of its picture can fail."""
    assert draw_beam(replace(BEAM, moment_text="2.107 ± 0.044 N·m tail-heavy")) != draw_beam(BEAM)
