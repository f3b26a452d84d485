"""Write docs/cautions.md: every standing caution in each language, side by side, so that they can be read as one.

cautions.py          write the page
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

if __name__ == "__main__":
    sys.path.insert(0, str(ROOT / "src"))

from babel.messages.catalog import Catalog  # noqa: E402
from babel.messages.pofile import read_po  # noqa: E402

from hingeline.arm import notes as arm  # noqa: E402
from hingeline.balance import notes as weighing  # noqa: E402
from hingeline.balance import printed_limits  # noqa: E402
from hingeline.balance.ballast import notes as ballast  # noqa: E402
from hingeline.balance.coating import notes as coating  # noqa: E402
from hingeline.balance.spread import solve as spread  # noqa: E402
from hingeline.balance.swing import notes as swing  # noqa: E402
from hingeline.due import results as due  # noqa: E402
from hingeline.flutter import result_words as flutter  # noqa: E402
from hingeline.motion import onset_words, tap  # noqa: E402
from hingeline.motion import words as motion  # noqa: E402
from hingeline_app.evidence import views as evidence  # noqa: E402
from hingeline_app.report import balance_line, incomplete_work, job_view, owner_sheet, release_wording, view  # noqa: E402
from hingeline_app.report.owner_words import sentences  # noqa: E402
from hingeline_app.said.reader import phrases  # noqa: E402
from hingeline_app.selftest import run as selftest  # noqa: E402
from hingeline_app.why_balance import sentences as why  # noqa: E402
from hingeline_app.why_balance.printed import short_sheets  # noqa: E402

PAGE = ROOT / "docs" / "cautions.md"
LOCALE = ROOT / "src" / "hingeline_app" / "web" / "locale"
LANGUAGES = ("de", "fr")
MODULES = (
    weighing, printed_limits, ballast, coating, spread, swing, due, onset_words, tap, motion, evidence, balance_line,
    incomplete_work, job_view, owner_sheet, release_wording, view, selftest, why,
)  # fmt: skip
HEAD = """# Cautions, in each language

Written by `tools/cautions.py`, so that the languages can be read sentence by sentence beside each other. A caution has
a subject, says what not to do, and until what. None of them says that anything is good.
"""
ON_PAGES = (
    "A weighing inside its limits says nothing about rigging.",
    "A weighing says nothing about rigging. Copy each limit from the approved data: nothing here knows them.",
    "An estimate never makes the approved interval longer.",
    "Likeness to a model proves nothing, and difference neither. Never try to make it happen again in flight.",
    "Never fly faster to improve it. On the bench stay clear of what may swing off.",
    "Never try to make it happen again in flight.",
    "Not to be flown until it is done.",
    "Nothing here says which number is right: ask the design holder before you use the row.",
    "On the ground only, and off again before anything moves: a phone on a control surface changes its balance.",
    "Release is the certifying person's decision under the local authority's rules.",
    "The signature is the one on the paper. Keep the paper: this copy of it proves nothing by itself.",
    "These rows copy the approved document. They never replace it: work to its current issue.",
    "This never counts as a second inspection. Say why nobody else could come.",
    "Use only the places, parts and amounts that the approved data allows. Lock the weight before you weigh again.",
    "Work to the approved document; this shows its limits, it does not replace them.",
)


def by_place() -> Iterator[tuple[str, tuple[str, ...]]]:
    """Give the cautions by where they stand; one that stands in several places is told at the first."""
    yield "On pages", ON_PAGES
    yield "Weighing", weighing.CAUTIONS
    yield "Correction", ballast.CAUTIONS
    yield "Paint", coating.CAUTIONS
    yield "Swing", swing.CAUTIONS
    yield "Dynamic balance", spread.CAUTIONS
    yield "Printed limits", (str(vars(printed_limits)["_CAUTION"]),)
    yield "Checks ahead", due.CAUTIONS
    yield "Weight arm", (arm.STANDING, arm.EXPLAINS, arm.FOUND, arm.WEIGH)
    yield (
        "Recordings",
        (evidence.CAUTION, evidence.CAUTION_OTHERWISE, *motion.CAUTIONS, *tap.CAUTIONS, *onset_words.CAUTIONS),
    )
    yield "Flutter by a model", (flutter.MODEL, flutter.AIRSPEED, flutter.DAMPING_MATTERS)
    yield "Why balance", (why.TEACHING, why.CAUTION, *(sheet.caution for sheet in short_sheets().values()))
    yield "Self-test", selftest.CAUTIONS
    prints = (view.STANDING_CAUTION, job_view.RELEASE_CAUTION, release_wording.CAUTION, balance_line.CAUTION)
    yield "Prints", (*prints, incomplete_work.CAUTION, owner_sheet.NOT_RELEASED, owner_sheet.CAUTION)


def in_languages(english: str) -> dict[str, str]:
    """Give what a caution is in the other languages, wherever it stands; KeyError where it is in none."""
    for book in (sentences(), phrases()):
        if english in book:
            return dict(book[english])
    return {language: _of_the_pages(english, language) for language in LANGUAGES}


def _of_the_pages(english: str, language: str) -> str:
    found = _catalogue(language).get(english)
    if found is None:
        raise KeyError(english)
    return str(found.string)


@cache
def _catalogue(language: str) -> Catalog:
    with (LOCALE / language / "LC_MESSAGES" / "django.po").open("rb") as file:
        return read_po(file, locale=language)


def cautions() -> list[tuple[str, str, dict[str, str]]]:
    """Give each caution once: where it stands, in English, in the other languages."""
    found: dict[str, tuple[str, str, dict[str, str]]] = {}
    for place, texts in by_place():
        for english in texts:
            found.setdefault(english, (place, english, in_languages(english)))
    return list(found.values())


def page() -> str:
    """Give the page."""
    lines, before = [HEAD.rstrip()], ""
    for place, english, said in cautions():
        if place != before:
            lines += ["", f"## {place}", "", "| English | Deutsch | Français |", "|---|---|---|"]
            before = place
        lines.append(f"| {english} | {said['de']} | {said['fr']} |")
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
