"""Spoiled inputs to every room of the library: finite numbers, or a refusal in words; never anything else."""

from __future__ import annotations

import random
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from hingeline.balance.printed_limits import PrintedRange
from hingeline.errors import InputRefused
from tests.faults.fuzzing.rooms import ROOMS, Room, read_by_the_second_reader, read_text, typed
from tests.faults.fuzzing.spoiling import holds_only_numbers, numbers_that_are_none, spoiled
from tests.faults.fuzzing.words import UNKNOWN, with_unknown_words


def outcome_of(room: Room, asked: Any, *, twice: bool = True) -> str:
    """Ask a room, and name what is wrong with the answer, if anything is; ``twice``: by its second way too."""
    try:
        found = room.answer(asked)
    except InputRefused:
        return "refused"
    if not holds_only_numbers(found):
        return f"a number that is none {next(numbers_that_are_none(found))}"
    room.glance(asked, found)
    if twice:
        room.second_way(asked, found)
    return "answered"


def tried(name: str, seeds: range, one_of: int = 1) -> tuple[Counter[str], list[str]]:
    """Try a room with as many spoiled inputs; count the outcomes, and name the faults by their seeds.

    The second way goes along with one of so many.
    """
    room, counted, faults = ROOMS[name], Counter[str](), []
    for seed in seeds:
        draw = random.Random(seed)
        try:
            outcome = outcome_of(room, spoiled(draw.choice(room.inputs()), draw), twice=seed % one_of == 0)
        except InputRefused:
            # Some records look at their own values when they are made.
            outcome = "refused"
        except Exception as fault:
            outcome = f"{type(fault).__name__}: {fault}"[:200]
        counted[outcome if outcome in ("refused", "answered") else "fault"] += 1
        if outcome not in ("refused", "answered"):
            faults.append(f"seed {seed}: {outcome}")
    return counted, faults


@pytest.mark.slow
@pytest.mark.parametrize("name", ROOMS)
def test_a_spoiled_input_is_answered_or_refused(name: str) -> None:
    """Some hundreds each: no crash, no number that is none, and the second way agrees where there is one."""
    counted, faults = tried(name, range(ROOMS[name].few))
    assert faults == []
    assert counted["refused"] > 0
    assert counted["answered"] > 0


@pytest.mark.campaign
@pytest.mark.parametrize("name", ROOMS)
def test_many_spoiled_inputs_are_answered_or_refused(name: str, record_property: Callable[[str, object], None]) -> None:
    """The same with many, of other seeds."""
    started = time.process_time()
    counted, faults = tried(name, range(10**6, 10**6 + ROOMS[name].many))
    spent = time.process_time() - started
    record_property("figure", f"{name}: {ROOMS[name].many} spoiled inputs, {dict(counted)}, {spent:.0f} s of a core")
    assert faults[:5] == []


@pytest.mark.slow
@pytest.mark.parametrize("name", ROOMS)
def test_a_word_that_no_rule_knows_is_refused(name: str) -> None:
    """Wherever a good input has one of a few words, another is refused by its place, and not taken for one of them."""
    room = ROOMS[name]
    taken = []
    for good in room.inputs():
        for path, asked in with_unknown_words(good):
            try:
                room.answer(asked)
            except InputRefused as refused:
                taken += [] if UNKNOWN in str(refused) else [(path, str(refused))]
            else:
                taken.append((path, "taken"))
    assert taken == []


def read_many(seeds: range) -> Counter[str]:
    """Read as many texts, each by both readers."""
    counted = Counter[str]()
    for seed in seeds:
        words = typed(seed)
        try:
            found = read_text(words.text, (words.dimension,), page=seed % 2 == 0)
        except InputRefused:
            counted["refused"] += 1
            continue
        read_by_the_second_reader(words, found)
        counted["read"] += 1
    return counted


def test_what_somebody_types_is_read_by_both_readers_alike_or_refused() -> None:
    """5,000 texts, some with digits of other scripts, marks of order and thousands marks in them."""
    counted = read_many(range(5_000))
    assert counted["read"] > 200
    assert counted["refused"] > 2_000


@pytest.mark.campaign
def test_a_million_texts_are_read_alike_or_refused(record_property: Callable[[str, object], None]) -> None:
    record_property("figure", f"units: a million texts, {dict(read_many(range(10**7, 10**7 + 10**6)))}")


def test_what_is_wrong_would_be_seen() -> None:
    """A crash, a number that is none, and a second way that disagrees are three faults."""

    def disagrees(asked: Any, found: Any) -> None:
        raise AssertionError("disagrees")

    good = ROOMS["weigh"]
    for room in (
        Room(good.inputs, lambda asked: 1 / 0),
        Room(good.inputs, lambda asked: {"moment": (1.0, float("nan"))}),
        Room(good.inputs, lambda asked: 1.0, disagrees),
    ):
        ROOMS["planted"] = room
        try:
            assert len(tried("planted", range(3))[1]) == 3
        finally:
            del ROOMS["planted"]


OTHERWISE: dict[str, Callable[[Any], Any]] = {
    "limits": lambda rows: (replace(rows[0], moment=PrintedRange(-1.0, 1.0)), *rows[1:]),
    "ballast": lambda task: replace(task, local_gravity=1.001 * task.local_gravity),
    "coating": lambda task: replace(task, local_gravity=1.001 * task.local_gravity),
    "swing": lambda task: replace(task, periods=tuple(1.001 * each for each in task.periods)),
    "dynamic": lambda task: replace(task, points=(replace(task.points[0], mass=0.123), *task.points[1:])),
    "arm": lambda task: replace(task, weight=replace(task.weight, mass=1.01 * task.weight.mass)),
    "flutter": lambda task: replace(task, section=replace(task.section, pitch_inertia=0.41)),
    "motion": lambda recording: replace(recording, times=tuple(1.01 * each for each in recording.times)),
    "before": lambda weighing: replace(
        weighing, supports=(replace(weighing.supports[0], arm=1.001 * weighing.supports[0].arm),)
    ),
    "stick": lambda task: replace(task, stick_travel=1.001 * task.stick_travel),
    "drift": lambda series: replace(
        series, weighings=tuple(replace(w, moment=w.moment + 1.0) for w in series.weighings)
    ),
    "line": lambda line: replace(line, hinge_from_datum=1.001 * line.hinge_from_datum),
    "tones": lambda asked: replace(asked, values=1.001 * asked.values),
}


@pytest.mark.parametrize("name", OTHERWISE)
def test_a_second_way_disagrees_with_the_answer_to_another_question(name: str) -> None:
    """A thousandth or a hundredth more of one number in the question: the second way does not take that answer."""
    room = ROOMS[name]
    # The last is a small one where a room has any.
    asked = room.inputs()[-1]
    room.second_way(asked, room.answer(asked))
    with pytest.raises(AssertionError):
        room.second_way(asked, room.answer(OTHERWISE[name](asked)))
