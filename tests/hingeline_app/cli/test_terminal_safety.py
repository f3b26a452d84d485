"""Nothing that stands in a file can steer the terminal, and no name breaks the page."""

from __future__ import annotations

import re
from unicodedata import category

import pytest
from rich.cells import cell_len

from hingeline_app.cli.output import visible
from tests.doors.checkouts import ROOT
from tests.faults.good_files import ACROSS_FRICTION, EXAMPLE, LIMITS, changed
from tests.faults.running import Answer, Runner

# Escape sequence, bell, carriage return, delete, the one-character escape of old terminals, marks that turn or
# hide text, a line's end of its own, a private character, half a tag.
STEERING = ["\x1b[31m", "\x1b]0;title\x07", "\x07", "\r", "\x7f", "\x9b31m", "\u202e", "\u2066", "\u200b", "\u2028"]
STEERING += ["\ufeff", "\ue000", "\U000e0041"]
NAMES = {
    "Greek": "Πηδάλιο ανόδου–καθόδου",
    "Cyrillic": "Руль высоты, левый",
    "Chinese": "左升降舵",
    "Japanese": "昇降舵(左)",
    "Korean": "승강타 왼쪽",
    "German, decomposed": "Ho\u0308henruder",
    "Hebrew": "הגה גובה",
    "markup": "[bold]Elevator[/bold] :airplane: <b>&amp;",
    "quotes": "Elevator \u201cleft\u201d 'half'",
    "formula": "=cmd|'/C calc'!A0",
}
SHOWN = [
    ("weigh", "01-elevator-left-half.toml"),
    ("weigh", "05-two-supports-one-scale.toml"),
    ("ballast", "09-elevator-correction.toml"),
    ("due", "due/01-checks-of-a-merle.toml"),
    ("flutter", "flutter/03-tailplane-weight-on-an-arm.toml"),
    ("arm", "arm/01-elevator-arm-stripped.toml"),
    ("limits", "07-limits-that-disagree.toml"),
]
MACHINE = re.compile(r"[\n\u00a0\u202f\u2009]")


def assert_harmless(answer: Answer) -> None:
    """Neither stream holds a character that cannot be seen."""
    for text in (answer.out, answer.err):
        strange = {
            f"U+{ord(each):04X}" for each in MACHINE.sub("", text) if category(each)[0] in "C" or each in "\u2028\u2029"
        }
        assert not strange


@pytest.mark.parametrize("options", [(), ("--json",)], ids=["page", "json"])
@pytest.mark.parametrize("steering", STEERING, ids=lambda text: "+".join(f"{ord(each):04X}" for each in text[:2]))
def test_what_steers_a_terminal_is_refused_in_names_and_shown_as_an_escape(
    steering: str, options: tuple[str, ...], runner: Runner
) -> None:
    """In a name it is refused, in words, quantities and unknown keys too; shown are escapes only."""
    escaped = "".join(f"\\U{ord(each):08x}" for each in steering)
    for old, new in (
        ("Elevator, left half", f"Elevator{escaped}"),
        ('side = "aft"', f'side = "aft{escaped}"'),
        ("255 mm", f"255 mm{escaped}"),
        ("tare =", f'"tare{escaped}" ='),
        ("HL-3", f"HL{escaped}"),
        ("simple", escaped),
    ):
        answer = runner.on(changed(EXAMPLE, old, new), "weigh", *options)
        assert answer.status == 2, new
        assert_harmless(answer)


@pytest.mark.parametrize("steering", [each for each in STEERING if each not in ("\r", "\x07")])
def test_raw_characters_in_a_broken_line_are_shown_as_escapes(steering: str, runner: Runner) -> None:
    """The line of a file that is no TOML is shown with its hidden characters spelled out."""
    answer = runner.on(changed(EXAMPLE, "[surface]", f"surface {steering} ="), "weigh")
    assert answer.status == 2
    assert_harmless(answer)
    assert f"\\u{ord(steering[0]):04x}" in answer.err or f"\\U{ord(steering[0]):08x}" in answer.err


def test_hidden_characters_in_a_call_are_shown_as_escapes(runner: Runner) -> None:
    """File names, options and commands are as harmless as files."""
    for arguments in (
        ["\x1b[31m"],
        ["weigh", "\x1b]0;x\x07"],
        ["weigh", "a", "--\x1bx"],
        ["weigh", "\udcff", "--json"],
    ):
        answer = runner.command(*arguments)
        assert answer.status == 2
        assert_harmless(answer)


def test_json_keeps_what_it_escapes(runner: Runner) -> None:
    """In a document the escape stands for the character that was typed."""
    answer = runner.on(changed(EXAMPLE, 'side = "aft"', 'side = "aft\\u202e\\U000e0041"'), "weigh", "--json")
    assert answer.errors[0]["value"] == "aft\u202e\U000e0041"
    assert "\\u202e" in answer.out


def test_visible_leaves_ordinary_text_alone() -> None:
    """Letters of every script, the spaces before units, and ends of lines stay as they are."""
    text = "\n".join([*NAMES.values(), "2.1\u00a0N·m", "1\u202f000"])
    assert visible(text) == text
    assert visible("a\tb\x1b\U000e0041") == "a\\u0009b\\u001b\\U000e0041"


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_names_of_every_script_are_shown_as_typed(name: str, runner: Runner) -> None:
    """A name in any script stands on the page and in the document, composed; markup stays text."""
    composed = name.replace("o\u0308", "ö")
    job = changed(EXAMPLE, '"Elevator, left half"', f'"{name}"')
    assert runner.on(job, "weigh", "--json").document["surface"]["name"] == composed
    assert runner.on(job).out.startswith(composed)


@pytest.mark.parametrize("columns", [40, 60, 92])
@pytest.mark.parametrize(
    "name", ["x" * 200, "升降舵" * 66, "one two three " * 14, "й" * 200], ids=["x", "CJK", "words", "й"]
)
def test_a_long_name_breaks_no_page(name: str, columns: int, runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """With names of two hundred characters every line fits, every name is whole, and no number is lost."""
    monkeypatch.setattr("hingeline_app.cli.page.columns", lambda: columns)
    name = name.strip()
    job = changed(ACROSS_FRICTION, '"Rudder"', f'"{name}"')
    job = changed(changed(job, "tab pushrod", name), "Merle T2 data sheet 9, issue A, page 2 (invented)", name)
    short, long = runner.on(ACROSS_FRICTION), runner.on(job)
    assert long.status == 0
    assert max(map(cell_len, long.out.split("\n"))) <= columns
    assert "".join(long.out.split()).startswith("".join(name.split()))
    assert numbers(long.out) == numbers(short.out)


@pytest.mark.parametrize("columns", [40, 92])
def test_long_names_break_no_page_of_limits(columns: int, runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page of printed limits holds long names too."""
    monkeypatch.setattr("hingeline_app.cli.page.columns", lambda: columns)
    job = changed(changed(LIMITS, "serial 0001 and on", "s" * 200), "Elevator, left half", "e" * 200)
    answer = runner.on(job, "limits")
    assert answer.status == 0
    assert max(map(cell_len, answer.out.split("\n"))) <= columns


@pytest.mark.parametrize("columns", [40, 52, 80])
@pytest.mark.parametrize("words", SHOWN, ids=lambda words: words[0])
def test_no_number_and_no_word_is_cut_in_a_narrow_terminal(
    words: tuple[str, ...], columns: int, runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every number and word of the wide page stands whole on the narrow one, however its lines break."""
    command, example = words
    job = (ROOT / "examples" / example).read_text("utf-8")
    wide = runner.on(job, command).out
    monkeypatch.setattr("hingeline_app.cli.page.columns", lambda: columns)
    narrow = runner.on(job, command).out
    assert max(map(cell_len, narrow.split("\n"))) <= columns
    assert whole_words(wide) - whole_words(narrow) == set()


def whole_words(page: str) -> set[str]:
    """Give the words and numbers of a page; those of a picture scale with the page, and are left out."""
    words = [each for each in page.split() if re.search(r"\w", each) and not re.search(r"[=/~|─\[]", each)]
    return {each.strip("().,;:") for each in words}


def numbers(page: str) -> list[str]:
    """Every number with a decimal point on a page, sorted: lines may break elsewhere, numbers may not go."""
    return sorted(re.findall(r"\u2212?\d+\.\d+", page))
