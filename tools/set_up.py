"""Make a virtual environment from one pinned and hashed requirements file, once.

    python3 tools/set_up.py ENVIRONMENT REQUIREMENTS SOURCE

Called by ``./hingeline`` and ``./check`` when the environment's stamp is not a copy of
the requirements file. Needs nothing but Python itself. What it promises:

* The stamp is written last, so an install that was killed is made anew by the next start.
* Two starts at once: the second waits for the first. The lock is held by the kernel, and
  by pip too while it runs, so it goes when the last of them goes and is never stale.
* No build step: a ``.pth`` file names the source folder, and only where the environment
  stands outside the checkout does it name it by an absolute path.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
import venv
from contextlib import suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # pragma: no cover - Windows is served through a browser
    fcntl = None  # type: ignore[assignment]

STAMP = "stamp"
LOCK = "lock"
LOG = "setup.log"


def main(environment: Path, requirements: Path, source: Path) -> int:
    """Make the environment, unless another start has just made it."""
    environment.mkdir(parents=True, exist_ok=True)
    with (environment / LOCK).open("a") as lock:
        wait_for(lock.fileno())
        if is_ready(environment, requirements):
            return 0
        return make(environment, requirements, source, lock.fileno())


def wait_for(lock: int) -> None:
    """Take the lock; where the file system knows no locks, go on without."""
    if fcntl is None:
        return
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        say("another start is setting up; waiting for it")
        fcntl.flock(lock, fcntl.LOCK_EX)
    except OSError:
        say("this file system has no locks; do not start twice at once this first time")


def is_ready(environment: Path, requirements: Path) -> bool:
    """Whether the stamp is a copy of the requirements and the interpreter still runs."""
    stamp = environment / STAMP
    return (
        stamp.is_file()
        and stamp.read_bytes() == requirements.read_bytes()
        and os.access(python_of(environment), os.X_OK)
    )


def make(environment: Path, requirements: Path, source: Path, lock: int) -> int:
    """Empty the folder, then environment, packages, source and stamp, in this order."""
    say(f"setting up in {environment} (once; about a minute)")
    empty(environment)
    venv.EnvBuilder(symlinks=True, with_pip=True).create(environment)
    say("installing the pinned packages, each checked against its hash")
    if not install(environment, requirements, lock):
        return 1
    name_source(environment, source)
    part = environment / f"{STAMP}.part"
    part.write_bytes(requirements.read_bytes())
    part.replace(environment / STAMP)
    say("ready")
    return 0


def empty(environment: Path) -> None:
    """Take everything away but the lock that we hold: the stamp first."""
    (environment / STAMP).unlink(missing_ok=True)
    for entry in environment.iterdir():
        if entry.name == LOCK:
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        else:
            entry.unlink()


def install(environment: Path, requirements: Path, lock: int) -> bool:
    """Let the environment's own pip install; its words go to a log, and to the user if it fails."""
    command = [os.fspath(python_of(environment)), "-m", "pip", "install", "--require-hashes"]
    command += ["--no-input", "--disable-pip-version-check", "--requirement", os.fspath(requirements)]
    log = environment / LOG
    with log.open("wb") as words:
        done = subprocess.run(
            command, stdin=subprocess.DEVNULL, stdout=words, stderr=words, env=plain(), pass_fds=(lock,)
        )
    if done.returncode == 0:
        return True
    last = log.read_text(encoding="utf-8", errors="replace").splitlines()[-6:]
    say("the packages could not be installed. Is there a network? pip's last words:")
    print(*(f"    {line}" for line in last), sep="\n", file=sys.stderr)
    say(f"all of them are in {log}; run the same command again to try again")
    return False


def plain() -> dict[str, str]:
    """Give the surroundings for pip, less what would make it install somewhere else."""
    elsewhere = {"PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_REQUIRE_VIRTUALENV", "PYTHONPATH"}
    return {name: value for name, value in os.environ.items() if name not in elsewhere}


def name_source(environment: Path, source: Path) -> None:
    """Put the source folder on the environment's path, so that an edit needs no install."""
    base = os.fspath(environment)
    packages = Path(sysconfig.get_path("purelib", "venv", vars={"base": base, "platbase": base}))
    beside = environment.parent == source.parent
    # A relative line lets the whole checkout be moved or copied, environment included.
    line = os.path.relpath(source, packages) if beside else os.fspath(source)
    (packages / "hingeline_source.pth").write_text(line + "\n", encoding="utf-8")


def python_of(environment: Path) -> Path:
    """Where the environment's interpreter stands."""
    return environment / "bin" / "python"


def say(words: str) -> None:
    """One progress line, on standard error."""
    print(f"hingeline: {words}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    try:
        sys.exit(main(*(Path(os.path.abspath(argument)) for argument in sys.argv[1:4])))
    except KeyboardInterrupt:
        with suppress(BrokenPipeError):
            say("interrupted; the next start begins the set-up again")
        sys.exit(130)
    except (OSError, subprocess.CalledProcessError) as fault:
        say(f"the set-up stopped: {fault}")
        sys.exit(1)
