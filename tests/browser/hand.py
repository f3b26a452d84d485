"""A hand that walks through the pages: it taps and types, counts both, and keeps a picture of what it came to.

Time is counted by the keystroke-level model: Card, Moran and Newell, "The keystroke-level model for user performance
time with interactive systems", Communications of the ACM 23 (7), 1980: a key of an average typist who is no secretary
0.28 s, pointing at something 1.1 s, making up one's mind 1.35 s before each. What pages take to answer is kept apart.
"""

from __future__ import annotations

import os
import re
import time
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Locator, Page, expect

KEY, POINT, MIND = 0.28, 1.1, 1.35
# Set, the pictures of the walks are kept there; the pages of docs/walks show them.
PICTURES = "HINGELINE_WALKS"


@dataclass
class Hand:
    """Who walks: a page, and what was tapped and typed since the last look at the watch."""

    page: Page
    walk: str
    taps: int = 0
    keys: int = 0
    waited: float = 0.0
    shown: list[str] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """Give the hand time: each tap is pointed at and thought of; a key only costs its key."""
        return self.taps * (POINT + MIND) + self.keys * KEY

    def tap(self, at: Locator, leads_to: str = "") -> None:
        """Tap something; where it leads to another page, wait for it."""
        self.taps += 1
        at.click()
        if leads_to:
            begun = time.monotonic()
            self.page.wait_for_url(re.compile(leads_to))
            self.page.wait_for_load_state()
            self.waited += time.monotonic() - begun

    def button(self, name: str, leads_to: str = "") -> None:
        self.tap(self.page.get_by_role("button", name=name, exact=True).first, leads_to)

    def link(self, name: str, leads_to: str = "") -> None:
        self.tap(self.page.get_by_role("link", name=name, exact=True).first, leads_to)

    def types(self, label: str, text: str) -> None:
        """Tap a field and type into it."""
        self.taps += 1
        self.keys += len(text)
        self.page.get_by_label(re.compile(f"^{re.escape(label)}")).first.fill(text)

    def chooses(self, label: str, words: str) -> None:
        """Open a list and tap one of it."""
        self.taps += 2
        self.page.get_by_label(label, exact=True).first.select_option(words)

    def ticks(self, label: str) -> None:
        self.taps += 1
        self.page.get_by_label(label).first.check()
        expect(self.page.get_by_label(label).first).to_be_checked()

    def looks(self, name: str) -> None:
        """Keep a picture of what is seen, where pictures are asked for."""
        self.shown.append(name)
        folder = os.environ.get(PICTURES)
        if folder:
            self.page.wait_for_load_state("networkidle")
            kept(self.page.screenshot(), Path(folder) / f"{self.walk}-{name}.png")


def kept(picture: bytes, path: Path, colours: int = 128) -> None:
    """Keep a picture small: flat drawings need few colours.

    They are chosen by an octree: a median cut spends them on what there is most of, and "outside" in red becomes olive.
    """
    with Image.open(BytesIO(picture)) as seen:
        few = seen.convert("RGB").quantize(colours, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
        few.save(path, optimize=True)
