"""What goes to which stream, and what happens when one is closed, full or cut off."""

from __future__ import annotations

import json
import os
import shlex
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from hingeline_app.cli.main import COMMANDS, main
from hingeline_app.files.schemas import other_schemas
from tests.doors.checkouts import ROOT
from tests.faults.good_files import EXAMPLE as TEXT
from tests.faults.good_files import EXAMPLES
from tests.faults.running import Runner, refused
from tests.hingeline_app.cli.processes import COMMAND, EXAMPLE, shell, surroundings

# A checkout may stand in a folder with a space in its name.
QUOTED = shlex.quote(str(EXAMPLE))


@pytest.mark.parametrize("name", EXAMPLES)
def test_json_is_one_document_and_nothing_else(name: str, runner: Runner) -> None:
    """With --json every example gives one strict document, and nothing on standard error."""
    kind = EXAMPLES[name].split('format = "hingeline/')[1].split("/")[0]
    answer = runner.on(EXAMPLES[name], "weigh" if kind == "weighing" else kind, "--json")
    assert answer.status == 0, answer.err
    assert answer.err == ""
    assert answer.document["format"].startswith("hingeline/")
    assert answer.out == json.dumps(answer.document, ensure_ascii=False, indent=2) + "\n"


@pytest.mark.parametrize("words", [["weigh", str(EXAMPLE), "--blank"], ["motion", "--sheet"]], ids=["blank", "sheet"])
def test_a_sheet_alone_is_answered_by_one_document_too(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where nothing is computed, --json says what was written."""
    out = str(tmp_path / "sheet.pdf")
    assert main([*words, out, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["format"], document["written"]) == ("hingeline/written/1", out)
    Draft202012Validator(other_schemas()["hingeline/written/1"]).validate(document)


@pytest.mark.parametrize("words", [[EXAMPLE], [EXAMPLE, "--json"], [EXAMPLE, "--before"], ["--help"]])
def test_a_broken_pipe_is_silent(words: list[object], tmp_path: Path) -> None:
    """Who reads no further ends the command with status 0 and not a word."""
    process = subprocess.Popen(
        [*COMMAND, "weigh", *map(str, words)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=surroundings(tmp_path),
    )
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    words = process.stderr.read()
    process.stderr.close()
    assert (process.wait(timeout=60), words) == (0, b"")


def test_the_first_line_alone_can_be_read(tmp_path: Path) -> None:
    """A page cut off by head leaves nothing on standard error."""
    done = shell(f"hingeline weigh {QUOTED} | head -1", tmp_path)
    assert done.stdout == "Elevator, left half  one weighing about the hinge line\n"
    assert done.stderr == ""


def test_a_refusal_keeps_its_status_when_nobody_reads_its_document(tmp_path: Path) -> None:
    """A broken pipe does not turn a refusal into a success."""
    done = shell("{ hingeline weigh gone --json; echo $? >status; } | true", tmp_path)
    assert (tmp_path / "status").read_text() == "2\n"
    assert done.stderr.startswith("Refused: 1 fault")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("options", ["", "--json"])
def test_a_full_disk_is_said_in_a_sentence(options: str, tmp_path: Path) -> None:
    """An answer that cannot be written is said to be lost, with status 2 and no traceback."""
    done = shell(f"hingeline weigh {QUOTED} {options} >/dev/full", tmp_path)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "could not be written to standard output" in done.stderr


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "status"),
    [
        (f"hingeline weigh {QUOTED} >&-", 0),
        (f"hingeline weigh {QUOTED} --json >&-", 0),
        ("hingeline weigh gone 2>&-", 2),
        ("hingeline weigh gone --json 2>/dev/full", 2),
        ("hingeline weigh gone 2>&- >&-", 2),
    ],
)
def test_a_closed_stream_changes_no_status(words: str, status: int, tmp_path: Path) -> None:
    """Closed or full streams lose the words, and leave status and silence as they are."""
    done = shell(words, tmp_path)
    assert done.returncode == status
    assert "Traceback" not in done.stdout + done.stderr
    assert "Exception ignored" not in done.stderr


def test_an_interrupt_gives_130_and_no_statement(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C within the work ends it with 130, and nothing is shown of the result."""

    def interrupted(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", interrupted)
    answer = runner.on(TEXT, "weigh", "--json")
    assert (answer.status, answer.out, answer.err.strip()) == (130, "", "")


def test_an_interrupt_while_waiting_for_input_gives_130(tmp_path: Path) -> None:
    """A process that waits for standard input and is interrupted exits with 130, without a traceback."""
    waiting = "\n".join(
        [
            "import os, signal, sys, threading",
            "from hingeline_app.cli.main import main",
            f"threading.Timer(0.3, lambda: os.kill(os.getpid(), {int(signal.SIGINT)})).start()",
            "sys.exit(main(['weigh', '-']))",
        ]
    )
    reading, writing = os.pipe()
    try:
        done = subprocess.run(
            [sys.executable, "-c", waiting], stdin=reading, capture_output=True, env=surroundings(tmp_path), timeout=60
        )
    finally:
        os.close(reading)
        os.close(writing)
    assert (done.returncode, done.stdout, done.stderr.strip()) == (130, b"", b"")


USAGE = {
    "nothing": ([], "COMMAND", "missing", "--help"),
    "unknown command": (["weih"], "COMMAND", "weih", 'Did you mean "weigh"?'),
    "command far from all": (["xyzzy"], "COMMAND", "xyzzy", "--help"),
    "no file": (["weigh"], "FILE", "missing", "weigh --help"),
    "two files": (["weigh", "a", "b"], "COMMAND", "weigh a b", "weigh --help"),
    "unknown option": (["weigh", "a", "--jsno"], "OPTION", "--jsno", 'Did you mean "--json"?'),
    "unknown option before the command": (["--jsno", "weigh"], "OPTION", "--jsno", "--help"),
    "option without its value": (["weigh", "a", "--pdf"], "--pdf", "missing", "weigh --help"),
    "draws a word": (["weigh", "a", "--draws", "many"], "--draws", "many", "weigh --help"),
    "draws too few": (["weigh", "a", "--draws=10"], "--draws", "10", "weigh --help"),
    "paper unknown": (["weigh", "a", "--paper", "a5"], "--paper", "a5", "weigh --help"),
}


@pytest.mark.parametrize("kind", USAGE)
def test_a_wrong_call_is_refused_like_a_wrong_file(kind: str, runner: Runner) -> None:
    """A wrong call exits with 2, with one document, and names what was typed and where help is."""
    arguments, field, value, word = USAGE[kind]
    json_flag = ["--json"] if arguments else []
    plain = runner.command(*arguments)
    assert (plain.status, plain.out) == (2, "")
    assert word in plain.err
    if json_flag and arguments[0] in COMMANDS:
        (error,) = refused(runner.command(arguments[0], "--json", *arguments[1:]))
        assert (error["field"], error["value"].replace(" --json", "")) == (field, value)
        assert word in error["remedy"]


@pytest.mark.parametrize(("given", "expected"), [("--draws", "10000 to 10000000"), ("--paper", "a4, letter")])
def test_an_option_s_value_is_refused_with_what_it_may_be(given: str, expected: str, runner: Runner) -> None:
    """The range of a number and the words of a choice are told."""
    (error,) = refused(runner.command("weigh", "a", "--json", given, "7"))
    assert expected in error["expected"]


def test_help_goes_to_standard_output(runner: Runner) -> None:
    """Help is an answer: status 0, standard output, every command named."""
    answer = runner.command("--help")
    assert (answer.status, answer.err) == (0, "")
    assert all(f"  {name} " in answer.out for name in COMMANDS)


@pytest.mark.slow
def test_the_command_is_the_same_from_any_folder(tmp_path: Path) -> None:
    """A file is looked for where the command is called."""
    (tmp_path / "here.toml").write_text(TEXT, encoding="utf-8")
    assert shell("hingeline weigh here.toml", tmp_path).returncode == 0
    assert shell("hingeline weigh here.toml", tmp_path, cwd=ROOT).returncode == 2
