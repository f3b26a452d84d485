"""Starting the pages of a workshop: look, bring the database up to date, say where, serve until told to stop."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from hingeline.errors import InputRefused
from hingeline_app.records.reaching import refuse_a_server_that_does_not_answer, refuse_what_is_no_address
from hingeline_app.report.typesetting import limit_typesetting
from hingeline_app.serving.certificate import ServerCertificate, certificate_in
from hingeline_app.serving.machine_names import MachineNames, names_of_this_machine
from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.reading_copy import copied_to_read
from hingeline_app.serving.surroundings import set_up_django

Say = Callable[[str], None]
NOT_STARTED = 1
ONE_SHEET_SECONDS = 60.0
"""How long the typesetter may take for the sheets of one page [s]; an order of sixty jobs takes a tenth of it."""


def serve(options: ServeOptions, say: Say) -> int:
    """Serve until stopped; give the exit status.

    Raises
    ------
    InputRefused
        The folder cannot be written, the port is taken, or the database server does not answer.
    """
    if not options.read_only:
        return _serve(options, say)
    with copied_to_read(options.data) as copy:
        say(f"Only for reading: a copy of {options.data} as it is now. Nothing is kept, and nothing there is changed.")
        return _serve(replace(options, data=copy, backups=copy / "backups"), say)


def _serve(options: ServeOptions, say: Say) -> int:
    _refuse_a_folder_that_cannot_be_written(options.data)
    _refuse_what_is_no_address(options.listening_host)
    _refuse_a_taken_port(options)
    refuse_what_is_no_address()
    certificate = None if options.loopback else certificate_in(options.data)
    names = certificate.names if certificate else MachineNames(("localhost",), names_of_this_machine().addresses[-2:])
    set_up_django(options, names.hosts())
    refuse_a_server_that_does_not_answer()
    if not _ready(say):
        return NOT_STARTED
    _announce(options, names, certificate, say)
    limit_typesetting(ONE_SHEET_SECONDS)
    from hingeline_app.serving.listening import listen

    return listen(options, certificate, say)


def _refuse_a_folder_that_cannot_be_written(folder: Path) -> None:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        trial = folder / ".trial"
        trial.touch()
        trial.unlink()
    except OSError as fault:
        remedy = f"Name another folder, or give this user the right to write there ({fault.strerror})."
        raise InputRefused.of("--data", str(folder), "a folder that can be written", remedy) from None


def _refuse_what_is_no_address(host: str) -> None:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        remedy = "Give it as a number, or leave it out to listen at all."
        raise InputRefused.of("--host", host, "an address of this machine", remedy) from None


def _refuse_a_taken_port(options: ServeOptions) -> None:
    family = socket.AF_INET6 if ":" in options.listening_host else socket.AF_INET
    try:
        with socket.socket(family) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            trial.bind((options.listening_host, options.listening_port))
    except OSError as fault:
        remedy = f"Stop what listens there, or name another port ({fault.strerror})."
        raise InputRefused.of("--port", options.binding, "a free port of this machine", remedy) from None


def _ready(say: Say) -> bool:
    """Bring the tables up to date, look at the records, let go of the database before the server forks."""
    from django.db import connections

    from hingeline_app.records.looking import look_at_the_records
    from hingeline_app.records.updating import bring_up_to_date
    from hingeline_app.web.found_at_start import remember

    update = bring_up_to_date(datetime.now(UTC))
    if update.backup:
        say(f"The records were brought up to this program; a checked backup of before lies in {update.backup}.")
    findings = look_at_the_records()
    remember(findings)
    connections.close_all()
    for each in findings.findings:
        say(f"{each.what} {each.where}: {each.says}. {each.remedy}".strip())
    if not findings.may_start:
        say("Nothing is served until this is mended.")
    elif not findings.may_sign:
        say("Nothing can be signed until this is mended; pages can be read.")
    return findings.may_start


def _announce(options: ServeOptions, names: MachineNames, certificate: ServerCertificate | None, say: Say) -> None:
    from hingeline_app.records.set_up_code import set_up_code_if_needed

    scheme = "https" if certificate else "http"
    say("Hingeline serves this workshop's pages. Open one of:")
    for host in names.listened_to(options.listening_host).hosts():
        say(f"    {scheme}://{host}:{options.listening_port}/")
    if certificate:
        say("A tablet has to trust this workshop once: open /trust there and compare this fingerprint (SHA-256):")
        say(f"    {certificate.fingerprint}")
    code = set_up_code_if_needed()
    if code:
        say("This workshop is not set up yet. The set-up page asks for this code, once:")
        say(f"    {code}")
    if options.processes > 1 or options.workers:
        say(f"Served by {options.processes} processes; {options.workers} workers follow videos and work studies.")
    say("Stop with Ctrl-C.")
