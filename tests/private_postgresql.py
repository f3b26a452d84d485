"""A PostgreSQL server of the tests' own: made in a folder for a while, with checksums, on one port of this machine."""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

WHERE = (
    "/usr/lib/postgresql/*/bin",
    "/usr/pgsql-*/bin",
    "/opt/homebrew/opt/postgresql*/bin",
    "/usr/local/opt/postgresql*/bin",
)
USER = "hingeline"
# Data are lost with the folder anyway, but these tests are about what a server keeps: nothing is turned off.
OPTIONS = ("listen_addresses=127.0.0.1", "unix_socket_directories=", "max_connections=40", "shared_buffers=16MB")


def programs() -> Path:
    """Find the folder with the server's programs."""
    found = shutil.which("initdb")
    folders = [Path(found).resolve().parent] if found else []
    folders += sorted((path for place in WHERE for path in Path("/").glob(place[1:])), reverse=True)
    for folder in folders:
        if (folder / "initdb").exists() and (folder / "postgres").exists():
            return folder
    raise AssertionError("there is no PostgreSQL server on this machine; ./check installs one, or says how")


def _server_user() -> str | None:
    """Give the user that a server may run as: it refuses the administrator."""
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        try:
            pwd.getpwnam(name)
        except KeyError:
            continue
        return name
    raise AssertionError("there is no user postgres or nobody to run a server as")


@dataclass
class Server:
    """A server and its folder."""

    folder: Path
    port: int
    user: str | None = field(default_factory=_server_user)
    process: subprocess.Popen[bytes] | None = None

    def address(self, database: str) -> str:
        return f"postgresql://{USER}@127.0.0.1:{self.port}/{database}"

    def make(self) -> None:
        words = [programs() / "initdb", "-D", self.folder / "data", "--data-checksums", "-U", USER, "--auth=trust"]
        self._run(*words, "--encoding=UTF8", "--locale=C")

    def start(self) -> None:
        options = [word for option in OPTIONS for word in ("-c", option)]
        with (self.folder / "log").open("ab") as log:
            self.process = subprocess.Popen(
                [programs() / "postgres", "-D", self.folder / "data", "-p", str(self.port), *options],
                stdout=log,
                stderr=log,
                user=self.user,
                cwd=self.folder,
                start_new_session=True,
            )
        self._wait_until_it_answers()

    def kill(self) -> None:
        """Kill every process of the server at once, as a crash of the machine would."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            self.process.wait(30)

    def create(self, database: str) -> str:
        """Make an empty database and give its address."""
        import psycopg

        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{database}"')
        return self.address(database)

    def _run(self, *words: str | Path) -> None:
        done = subprocess.run(words, user=self.user, cwd=self.folder, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr

    def _wait_until_it_answers(self) -> None:
        import psycopg

        until = time.monotonic() + 120
        while time.monotonic() < until:
            try:
                psycopg.connect(self.address("postgres"), connect_timeout=5).close()
            except psycopg.OperationalError:
                assert self.process is not None
                assert self.process.poll() is None, (self.folder / "log").read_text()
                time.sleep(0.05)
            else:
                return
        raise AssertionError((self.folder / "log").read_text())


@contextmanager
def private_server() -> Iterator[Server]:
    """Start a server in a folder of its own, and take both away afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="hingeline-postgresql-"))
    try:
        server = Server(folder, _free_port())
        if server.user:
            shutil.chown(folder, server.user)
        server.make()
        server.start()
        try:
            yield server
        finally:
            server.stop()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _free_port() -> int:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return int(trial.getsockname()[1])
