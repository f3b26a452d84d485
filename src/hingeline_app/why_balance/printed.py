"""A state, or one of the short sheets, as one printed side."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib.resources import files

from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.worksheet import Paper
from hingeline_app.why_balance.answers import curve_of, motion_of, point_of
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.pictures import onset_picture, section_picture
from hingeline_app.why_balance.presets import PRESETS, Preset, sentences_of
from hingeline_app.why_balance.sentences import (
    CAUTION,
    TEACHING,
    headline,
    moment_sentence,
    motion_sentence,
    range_sentence,
    why_sentence,
)
from hingeline_app.why_balance.state import State

JOB_NAME = "model.toml"


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


def print_state(state: State, made_at: datetime, version: str, paper: Paper = "a4") -> bytes:
    """Print the owner's side of a state: pictures and plain sentences, the model's file inside."""
    return make_explanation(
        "Why a control surface is balanced", f"{state.surface.title}. {state.surface.heading}",
        list(_parts_of(state)), made_at,
        foot=f"Hingeline {version}. The model of this side is attached to it: hingeline flutter {JOB_NAME}",
        aside="Estimate by a model, not a measurement", paper=paper, attached={JOB_NAME: job_file(state)},
    )  # fmt: skip


def _parts_of(state: State) -> Iterator[Part]:
    point, motion = point_of(state, band=True), motion_of(state)
    yield Part("text", state.surface.says)
    yield Part("finding", headline(state, point))
    yield Part("text", " ".join((range_sentence(state, point), moment_sentence(state))))
    picture = onset_picture(state, curve_of(state), point)
    yield Part(
        "picture",
        f"Onset over {state.surface.knob(state.axis).words}. {headline(state, point)}.",
        svg=picture,
        width=138.0,
    )
    yield Part("picture", motion_sentence(state, motion), svg=section_picture(state, motion), width=78.0)
    yield Part("text", " ".join((motion_sentence(state, motion), why_sentence(state, motion))))
    yield Part("caution", CAUTION)
    yield Part("heading", "What the model leaves out")
    yield Part("list", lines=state.surface.leaves_out)


def print_sheet(sheet: Sheet, made_at: datetime, version: str, paper: Paper = "a4") -> bytes:
    """Print a short sheet with the picture of its preset."""
    preset = preset_named(sheet.preset)
    return make_explanation(
        sheet.title, sheet.under, list(_parts_of_sheet(sheet, preset)), made_at,
        foot=f"Hingeline {version}. Numbers: {preset.state.surface.title}, invented, by the attached model.",
        aside=TEACHING, paper=paper, attached={JOB_NAME: job_file(preset.state)},
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
