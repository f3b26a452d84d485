"""What flutter really says, in German and French: refusals of unusable models, ranges, modes, findings, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.mode_words import mode_words
from hingeline.flutter.ranges import RANGES
from hingeline.flutter.result_words import (
    assumptions_of,
    cautions_of,
    note_on_turned,
    notes_on_divergence,
    notes_on_onset,
)
from hingeline.flutter.stick import MANOEUVRE
from hingeline.flutter.stick import RANGES as AT_THE_STICK
from hingeline_app.said import reading_in, says
from tests.hingeline.flutter.test_checks import REFUSED
from tests.hingeline.flutter.test_dotted import TASKS
from tests.hingeline.flutter.test_mode_words import unit_masses

FREEDOMS = ("plunge", "pitch", "surface", "tab", "aileron", "bending 1", "torsion 2", "mode 3", "weight on its arm")


def unsaid(sentences: Iterable[str], language: str) -> list[str]:
    """Give the sentences that the book does not know wholly."""
    with reading_in(language):
        return [sentence for sentence in sentences if says(sentence) is None]


def refusals() -> Iterator[str]:
    """Refuse each unusable model that the checks are tried with."""
    for task, *_ in REFUSED:
        with pytest.raises(InputRefused) as refused:
            refuse_unusable(task)
        yield from map(str, refused.value.refusals)


def findings() -> Iterator[str]:
    """Say what was assumed and found of each model, with each wake, with an onset and without."""
    for task in TASKS.values():
        yield from assumptions_of(task)
        if task.tailplane is not None:
            damped = replace(task.tailplane, support_damping_ratio=0.01, circuit_damping_ratio=0.015)
            for ratios in ((), (0.01, 0.02)):
                yield from assumptions_of(replace(task, tailplane=damped, damping_ratios=ratios))
        for counts in ((0, 0), (1, 0), (2, 3)):
            yield from notes_on_onset(task, None, counts)
            yield from cautions_of(task, None, growing=counts[0] > 0)
        for speeds in ((), (0.1,), (900.0,), (0.1, 0.2)):
            yield from notes_on_divergence(task, speeds)
    yield from note_on_turned((31.2,))


def modes() -> Iterator[str]:
    """Say modes in which every freedom leads, follows, and moves a little."""
    turns = np.exp(1j * np.arange(len(FREEDOMS)))
    sizes = np.linspace(1.0, 0.2, len(FREEDOMS))
    system = unit_masses(*FREEDOMS)
    for shift in range(len(FREEDOMS)):
        yield mode_words(system, np.roll(sizes * turns, shift))
    yield mode_words(unit_masses("plunge", "pitch"), np.array([1.0, 0.0j]))
    yield mode_words(unit_masses("plunge", "pitch"), np.array([1.0, -0.3 + 0.0j]))
    yield mode_words(unit_masses("plunge", "pitch"), np.array([1.0, 0.7 + 0.0j]))


@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_refusal_of_a_model_is_said(language: str) -> None:
    assert unsaid(refusals(), language) == []


@pytest.mark.parametrize("language", ["de", "fr"])
def test_what_each_number_may_be_is_said(language: str) -> None:
    """Of every field of every structure, and of the stick's."""
    allowed = [each for table in (*RANGES.values(), AT_THE_STICK, MANOEUVRE) for each in table.values()]
    assert unsaid((each.expected() for each in allowed), language) == []


@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_finding_and_caution_is_said(language: str) -> None:
    assert unsaid(findings(), language) == []


@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_mode_is_said(language: str) -> None:
    """Whatever leads and follows, in step, ahead, behind and opposite."""
    assert unsaid(modes(), language) == []
