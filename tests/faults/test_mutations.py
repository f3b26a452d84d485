"""A hundred thousand spoiled job files: none makes a fault of ours, and what is accepted is finite.

A seed that fails is run again with ``pytest tests/faults/test_mutations.py -k shard-NUMBER``.
"""

from __future__ import annotations

import re

import pytest

from tests.faults.mutations import mutated
from tests.faults.running import FOREIGN, Answer, Runner

SHARD = 1000
SHARDS = [
    pytest.param(number, id=f"shard-{number}", marks=[] if number < 5 else [pytest.mark.campaign])
    for number in range(100)
]
NO_NUMBER = re.compile(r"\b(?:nan|inf|infinity)\b", re.IGNORECASE)


def fault_of(answer: Answer) -> str:
    """Say what is wrong with an answer in JSON; nothing where it is as promised."""
    if answer.status not in (0, 2):
        return f"exit status {answer.status}: {answer.err[:200]}"
    try:
        told = answer.errors if answer.status == 2 else [answer.document]
    except (AssertionError, ValueError, KeyError) as wrong:
        return f"document: {wrong!r}"
    foreign = [word for word in FOREIGN if word in answer.err]
    return f"words: {foreign}" if foreign else "" if told else "nothing told"


def fault_of_page(answer: Answer, data: bytes) -> str:
    """Say what is wrong with a page; a name in the file may itself be called inf."""
    if answer.status not in (0, 2):
        return f"page, exit status {answer.status}: {answer.err[:200]}"
    shown = NO_NUMBER.search(answer.out)
    if shown and not NO_NUMBER.search(data.decode("utf-8", "replace")):
        return f"page shows {shown[0]}"
    seen = all(character.isprintable() or character in "\n\u00a0\u202f\u2009" for character in answer.out + answer.err)
    return "" if seen else "page with characters that cannot be seen"


@pytest.mark.slow
@pytest.mark.parametrize("shard", SHARDS)
def test_a_spoiled_file_is_refused_or_gives_finite_numbers(shard: int, runner: Runner) -> None:
    """Each of a thousand spoiled files exits with 0 or 2, with one strict document; every tenth as a page too."""
    faults, accepted = [], 0
    for seed in range(shard * SHARD, (shard + 1) * SHARD):
        command, data = mutated(seed)
        path = runner.file(data)
        answer = runner.command(command, path, "--json")
        accepted += answer.status == 0
        fault = fault_of(answer)
        if not fault and seed % 10 == 0:
            fault = fault_of_page(runner.command(command, path), data)
        if fault:
            faults.append(f"seed {seed}, {command}: {fault}")
    assert not faults, "\n".join(faults)
    # Were all refused, or none, the mutations would try nothing.
    assert SHARD // 20 < accepted < SHARD // 2


def test_a_seed_makes_the_same_file_again() -> None:
    """What failed once can be made again from its seed."""
    assert [mutated(seed) for seed in range(50)] == [mutated(seed) for seed in range(50)]
    assert len({mutated(seed) for seed in range(50)}) > 45


def test_a_fault_of_ours_would_be_noticed(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """The judge of this file notices a fault of the program, and a number that is none."""
    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", lambda weighing: 1 / 0)
    command, data = "weigh", mutated(0)[1]
    good = [seed for seed in range(200) if mutated(seed)[0] == "weigh"]
    answers = [runner.on(mutated(seed)[1], command, "--json") for seed in good]
    assert "exit status 1" in {fault_of(answer)[:13] for answer in answers}
    assert fault_of(Answer(0, '{"value": NaN}', "")).startswith("document")
    assert fault_of(Answer(0, '{"value": 1e999}', "")).startswith("document")
    assert fault_of(Answer(2, '{"format": "hingeline/error/1", "errors": [{"field": ""}]}', "")).startswith("document")
    assert fault_of_page(Answer(0, "\x1b[31m", ""), data)
    assert fault_of_page(Answer(0, "moment nan", ""), b"")
