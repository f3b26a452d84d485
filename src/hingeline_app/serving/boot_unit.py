"""How the server starts with the machine: a unit for systemd, written for this folder and this user."""

from __future__ import annotations

import getpass
import os
import sysconfig
from pathlib import Path

from hingeline_app.serving.options import ServeOptions
from hingeline_app.settings import places

DOOR = Path(__file__).resolve().parents[3] / "hingeline"
"""The door of a checkout; an installed package has none there."""
DATABASE_FILE = "/etc/hingeline.env"
UNIT = """\
# Put this into /etc/systemd/system/hingeline.service, then:
#   systemctl daemon-reload && systemctl enable --now hingeline
[Unit]
Description=Hingeline, the workshop's pages and records
After=network-online.target
Wants=network-online.target

[Service]
User={user}
{database}{journal}ExecStart={command}
Restart=on-failure
RestartSec=5
# A clean stop ends what is being saved first.
TimeoutStopSec=60
NoNewPrivileges=yes
PrivateTmp=yes
ProtectSystem=strict
ReadWritePaths={folders}

[Install]
WantedBy=multi-user.target
"""


def boot_unit(program: Path, options: ServeOptions) -> str:
    """Write the unit.

    Parameters
    ----------
    program : path
        What is started, by its whole path.
    options : ServeOptions
        What the server is started with.
    """
    words = [quoted(program), "serve", "--data", quoted(options.data), "--port", str(options.listening_port)]
    if places.database_address():
        # Both are said, one process and no worker too: left out, a server with the records on it would start two each.
        words += ["--processes", str(options.processes), "--workers", str(options.workers)]
    words += ["--loopback"] if options.loopback else ["--host", options.listening_host]
    words += ["--read-only"] if options.read_only else []
    folders = [quoted(options.data)]
    if options.backups:
        words += ["--backups", quoted(options.backups)]
        folders.append(quoted(options.backups))
    journal = ""
    if os.environ.get(places.JOURNAL):
        # Without it the machine would start with a journal beside the records: the second place would be given up.
        folders.append(quoted(places.journal_folder()))
        journal = f"Environment={quoted(f'{places.JOURNAL}={places.journal_folder()}')}\n"
    # The address may hold a password: it stands in a file of its own, readable by root alone.
    database = f"EnvironmentFile={DATABASE_FILE}\n" if places.database_address() else ""
    return UNIT.format(
        database=database, journal=journal, user=getpass.getuser(), command=" ".join(words), folders=" ".join(folders)
    )


def this_program() -> Path:
    """Give the command that the machine starts: the checkout's door, else the one that was installed."""
    return DOOR if DOOR.is_file() else Path(sysconfig.get_path("scripts")) / "hingeline"


def quoted(words: Path | str) -> str:
    """Give a path, or a name with its value, as a unit takes it: in quotes, with a doubled percent sign."""
    text = str(words).replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%")
    return f'"{text}"'
