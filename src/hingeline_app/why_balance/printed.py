"""A state, or one of the short sheets, as one printed side."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from importlib.resources import files

from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.owner_words import OwnersWords
from hingeline_app.report.sheet import made_words
from hingeline_app.report.worksheet import Paper
from hingeline_app.said import reading_in, say
from hingeline_app.why_balance.answers import curve_of, motion_of, point_of
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.pictures import onset_picture, section_picture
from hingeline_app.why_balance.presets import PRESETS, Preset, preset_of, sentences_of
from hingeline_app.why_balance.sentences import (
    TEACHING,
    WHAT_FLUTTER_IS,
    caution_of,
    headline,
    moment_sentence,
    motion_sentence,
    range_sentence,
    slack_sentence,
    why_sentence,
)
from hingeline_app.why_balance.state import State

JOB_NAME = "model.toml"
ATTACHED = f"The model of this side is attached to it: hingeline flutter {JOB_NAME}"
PRINTED, HALF = 348.0, 88.0
"""Pictures side by side, drawn as for a phone [px], printed as wide as half the side [mm]: type stays above 9 pt."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A short sheet: its title, its paragraphs in order, and the presets that it draws."""

    name: str
    title: str
    under: str
    paragraphs: tuple[str, ...]
    caution: str
    leaves_out: tuple[str, ...]
    preset: str


@cache
def short_sheets() -> dict[str, Sheet]:
    """Give the short sheets by name."""
    data = tomllib.loads(files("hingeline_app.why_balance").joinpath("sheets.toml").read_text(encoding="utf-8"))
    return {
        name: Sheet(name, each["title"], each["under"], tuple(each["paragraphs"]), each["caution"],
                    tuple(each["leaves_out"]), each["preset"])
        for name, each in data.items()
    }  # fmt: skip


def preset_named(name: str) -> Preset:
    """Give a preset by its name."""
    return next(preset for preset in PRESETS if preset.name == name)


def print_state(state: State, made_at: datetime, version: str, paper: Paper = "a4", language: str = "en") -> bytes:
    """Print the owner's side of a state: pictures and plain sentences, the model's file inside."""
    with reading_in(language):
        return make_explanation(
            say("Why a control surface is balanced"), f"{say(state.surface.title)}. {say(state.surface.heading)}",
            said_parts(_parts_of(state), OwnersWords(language)), made_at,
            foot=f"{_made(made_at, version)}. {say(ATTACHED)}",
            aside=say("Estimate by a model, not a measurement"), paper=paper, language=language,
            attached={JOB_NAME: job_file(state)},
        )  # fmt: skip


def _made(made_at: datetime, version: str) -> str:
    """Say by which version and when, as every other paper does."""
    return say(f"Hingeline {version} · made {made_words(made_at)}")


def said_parts(parts: Iterable[Part], words: OwnersWords) -> list[Part]:
    """Say every part as its reader does, with the reader's decimal mark; what the book does not know stays English."""
    return [_said(part, words) for part in parts]


def _said(part: Part, words: OwnersWords) -> Part:
    return replace(
        part,
        words=words.numbers(say(part.words)),
        lines=tuple(words.numbers(say(line)) for line in part.lines),
        svg=words.picture(part.svg),
        beside=_said(part.beside, words) if part.beside else None,
    )


def _parts_of(state: State) -> Iterator[Part]:
    """Say first what flutter is and what this state shows, as the page does; what only an engineer asks comes last."""
    point, motion = point_of(state, band=True), motion_of(state)
    yield Part("text", WHAT_FLUTTER_IS)
    yield from _what_is_looked_at(state)
    yield Part("finding", headline(state, point))
    yield Part("text", range_sentence(state, point))
    onset = onset_picture(state, curve_of(state), point, PRINTED)
    section = Part("picture", motion_sentence(state, motion), svg=section_picture(state, motion, PRINTED), width=HALF)
    shows = f"Onset over {state.surface.knob(state.axis).words}. {headline(state, point)}."
    yield Part("picture", shows, svg=onset, width=HALF, beside=section)
    said = (motion_sentence(state, motion), why_sentence(state, motion), slack_sentence(state), moment_sentence(state))
    yield Part("text", " ".join(each for each in said if each))
    yield Part("caution", caution_of(state))
    yield Part("heading", "What the model leaves out")
    yield Part("list", lines=state.surface.leaves_out)


def _what_is_looked_at(state: State) -> Iterator[Part]:
    """Give the two sentences of the button that leads here; where none does, what the model is."""
    preset = preset_of(state)
    if preset is None:
        yield Part("text", state.surface.says)
        return
    yield Part("heading", preset.title)
    yield Part("text", " ".join(sentences_of(preset)))


def print_sheet(sheet: Sheet, made_at: datetime, version: str, paper: Paper = "a4", language: str = "en") -> bytes:
    """Print a short sheet with the picture of its preset."""
    preset = preset_named(sheet.preset)
    with reading_in(language):
        numbers = say(f"Numbers: {preset.state.surface.title}, invented, by the attached model.")
        return make_explanation(
            say(sheet.title), say(sheet.under), said_parts(_parts_of_sheet(sheet, preset), OwnersWords(language)),
            made_at, foot=f"{_made(made_at, version)}. {numbers}", aside=say(TEACHING), paper=paper, language=language,
            attached={JOB_NAME: job_file(preset.state)},
        )  # fmt: skip


def _parts_of_sheet(sheet: Sheet, preset: Preset) -> Iterator[Part]:
    state = preset.state
    for words in sheet.paragraphs:
        yield Part("text", words)
    picture = onset_picture(state, curve_of(state), point_of(state, band=True))
    yield Part("picture", headline(state, point_of(state)), svg=picture)
    yield Part("text", " ".join(sentences_of(preset)))
    yield Part("caution", sheet.caution)
    yield Part("heading", "What this leaves out")
    yield Part("list", lines=(*sheet.leaves_out, *state.surface.leaves_out))
