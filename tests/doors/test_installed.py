"""The distribution installed as a stranger does: a clean environment for each extra, no checkout near, an empty home.

What each extra promises is done, and what it lacks is said in one sentence that names the extra.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import time
import urllib.request
import venv
from collections.abc import Callable
from http.cookiejar import CookieJar
from pathlib import Path

import pytest

import hingeline
from tests.browser.ports import free_port
from tests.doors.checkouts import ROOT
from tests.private_postgresql import Server

pytestmark = pytest.mark.campaign

Said = subprocess.CompletedProcess[str]
Installed = Callable[[str], Path]
WEIGH = "weigh examples/01-elevator-left-half.toml"
STRIP = "flutter examples/flutter/01-elevator-strip.toml"
FILMED = "motion examples/motion/07-section-filmed.mp4 --marks examples/motion/07-section-filmed.marks.toml"
DOES = {
    "app": [
        "--help", "selftest --weighings 20", f"{WEIGH} --pdf a.pdf", "replay a.pdf", f"{WEIGH} --blank b.pdf",
        "due examples/due/01-checks-of-a-merle.toml --ics a.ics", "explain weigh", f"{STRIP} --scatter 20 --cores 2",
        "motion tap examples/motion/06-tap-on-the-ground.csv --into tailplane.support_frequency",
    ],
    "video": [f"{FILMED} --captured-at 60", "motion --sheet m.pdf", WEIGH],
    "web": [WEIGH, "serve --print-unit"],
}  # fmt: skip
LACKS = {
    "": {WEIGH: "app", "--version": "app"},
    "fast": {WEIGH: "app"},
    "app": {
        "demo": "web", "serve --loopback": "web", "ledger verify": "web", "restore a --to b": "web",
        f"{FILMED} --captured-at 60": "video", f"{STRIP} --scatter 20 --cluster tcp://localhost:1": "cluster",
    },
}  # fmt: skip


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Make a clean environment with the wheel and one extra, once; our pins as what pip chooses from."""
    made: dict[str, Path] = {}
    pins = tmp_path_factory.mktemp("pins") / "pins.txt"
    named = re.findall(r"^([a-z0-9-]+==\S+)", (ROOT / "requirements" / "cluster.txt").read_text("utf-8"), re.MULTILINE)
    pins.write_text("\n".join(named), "utf-8")

    def install(extra: str) -> Path:
        if extra not in made:
            made[extra] = tmp_path_factory.mktemp(f"with {extra}") / "environment"
            venv.EnvBuilder(symlinks=True, with_pip=True).create(made[extra])
            what = f"{wheel}[{extra}]" if extra else str(wheel)
            pip = [made[extra] / "bin/python", "-m", "pip", "install", "--quiet", "--constraint", pins, what]
            subprocess.run(list(map(str, pip)), check=True, stdin=subprocess.DEVNULL, capture_output=True)
        return made[extra] / "bin" / "hingeline"

    return install


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A folder of a user's own with the examples, and a home beside it."""
    shutil.copytree(ROOT / "examples", tmp_path / "bench" / "examples")
    (tmp_path / "home").mkdir()
    return tmp_path / "bench"


def surroundings(bench: Path, **more: str) -> dict[str, str]:
    """Nothing of the tests' environment, of a checkout or of an earlier start."""
    return {"HOME": str(bench.parent / "home"), "PATH": os.defpath, "PYTHONUNBUFFERED": "1"} | more


def said(program: Path, words: str, bench: Path, **more: str) -> Said:
    """Run the installed command from the user's folder."""
    return subprocess.run(
        [str(program), *words.split()], cwd=bench, env=surroundings(bench, **more), stdin=subprocess.DEVNULL,
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip


@pytest.mark.parametrize("extra", DOES)
def test_an_extra_does_what_it_promises(extra: str, installed: Installed, bench: Path) -> None:
    """Every command of the extra ends with 0, finds its tables, fonts and pages of explanation."""
    program = installed(extra)
    assert said(program, "--version", bench).stdout == f"hingeline {hingeline.__version__}\n"
    for words in DOES[extra]:
        done = said(program, words, bench)
        assert done.returncode == 0, (words, done.stderr)
        assert done.stdout or done.stderr, words


@pytest.mark.parametrize("extra", LACKS, ids=lambda extra: extra or "none")
def test_what_an_extra_lacks_is_named_in_one_sentence(extra: str, installed: Installed, bench: Path) -> None:
    """Status 2, one line on standard error, with the extra that brings it."""
    program = installed(extra)
    for words, wanted in LACKS[extra].items():
        done = said(program, words, bench)
        assert (done.returncode, done.stdout) == (2, ""), words
        (sentence,) = done.stderr.splitlines()
        assert f'pip install "hingeline[{wanted}]"' in sentence


def test_compiled_loops_give_the_library_its_answers(installed: Installed, bench: Path) -> None:
    """With ``fast`` and nothing of the application, a scatter takes the compiled way."""
    code = "import hingeline.flutter, hingeline.flutter.compiling as c; print(c.numba.__name__)"
    python = installed("fast").with_name("python")
    done = subprocess.run([python, "-I", "-c", code], capture_output=True, text=True, check=True, cwd=bench)
    assert done.stdout == "numba\n"


def test_a_cluster_is_looked_for(installed: Installed, bench: Path) -> None:
    """With ``cluster`` what reaches a scheduler is there; where none answers, that is the refusal."""
    done = said(installed("cluster"), f"{STRIP} --scatter 20 --cluster tcp://localhost:1", bench)
    assert done.returncode == 2
    assert "a scheduler that answers" in done.stderr


def test_the_invented_workshop_opens_from_the_package(installed: Installed, bench: Path) -> None:
    """``hingeline demo`` of the package alone: its first page and its style are answered; it ends cleanly."""
    port = free_port()
    process = started(installed("web"), f"demo --port {port}", bench)
    try:
        page = opened(f"http://localhost:{port}/demo")
        assert "Mara Tarrow" in page
        style = re.search(r'href="(/static/web/page\.css)"', page)
        assert style
        assert "{" in opened(f"http://localhost:{port}{style[1]}")
    finally:
        process.send_signal(signal.SIGTERM)
        assert process.wait(60) == 0


def test_a_server_keeps_the_records_of_the_package(installed: Installed, bench: Path, postgresql: Server) -> None:
    """With ``server`` the tables are made there, and pages and workers start; without it, it is named."""
    port, address = free_port(), postgresql.create("installed")
    words = f"serve --loopback --data records --port {port}"
    done = said(installed("web"), words, bench, HINGELINE_DATABASE=address)
    assert done.returncode == 2
    assert 'pip install "hingeline[server]"' in done.stderr
    process = started(installed("server"), words, bench, HINGELINE_DATABASE=address)
    try:
        assert "set-up code" in opened(f"http://localhost:{port}/").lower()
    finally:
        process.send_signal(signal.SIGTERM)
        assert process.wait(60) == 0


def started(program: Path, words: str, bench: Path, **more: str) -> subprocess.Popen[str]:
    """Start a serving command and wait until it says that it serves."""
    heard = bench / "said.txt"
    with heard.open("w") as file:
        process = subprocess.Popen(
            [str(program), *words.split()], cwd=bench, env=surroundings(bench, **more), stdin=subprocess.DEVNULL,
            stdout=file, stderr=file, text=True,
        )  # fmt: skip
    end = time.monotonic() + 300
    while "Stop with Ctrl-C." not in heard.read_text("utf-8"):
        assert process.poll() is None, heard.read_text("utf-8")
        assert time.monotonic() < end, heard.read_text("utf-8")
        time.sleep(0.2)
    return process


def opened(address: str) -> str:
    """Give a page as a browser gets it, cookies kept on the way; the first answer may take a moment."""
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
    for wait in (0.5, 1.0, 2.0, 4.0):
        try:
            return str(opener.open(address, timeout=60).read().decode())
        except ConnectionError:
            time.sleep(wait)
        except urllib.error.URLError as fault:
            if not isinstance(fault.reason, ConnectionError):
                raise
            time.sleep(wait)
    raise AssertionError(f"nobody answers at {address}")
