"""Run as a program: a workshop in a folder of its own in which everything of the hangar happened once.

tell_of_checks.py FOLDER

The journal of such a folder was frozen as ``frozen_ledgers/checks-1``; it is never made again.
"""

from __future__ import annotations

import sys
from datetime import date
from decimal import Decimal
from pathlib import Path

from hingeline_app.records.opening import open_records


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    tell()


def tell() -> None:
    from hingeline import due
    from hingeline_app.records.actions.calendar_feeds import make_feed
    from hingeline_app.records.actions.signing_off import DoneAs, put_off, sign_off
    from hingeline_app.records.actions.tasks import Line, add_tasks
    from tests.hingeline_app.records.merle import merle
    from tests.hingeline_app.records.workshop import fenholt

    shop = fenholt()
    job = merle(shop)
    rule = due.Task(
        "arm check",
        source="manual",
        reference="MM 55-11, issue 4",
        every=due.Interval(hours=Decimal(100), months=12),
        join="first",
        months_are="anniversary",
        counts_from="done",
        tolerance=due.Tolerance(hours=Decimal(10)),
    )
    line = Line(rule, job.row.issue_id, ("Weight tight, lock wire whole", "Root: dye penetrant"))
    (task,) = add_tasks(shop.anna, [job.aircraft.pk], line)
    sign_off(
        shop.anna,
        task.pk,
        DoneAs(date(2026, 3, 2), Decimal("612.5"), Decimal(900), Decimal("610"), paper="CRS 17", signer="H. Moss"),
    )
    put_off(shop.anna, task.pk, approval="Variation 3", reason="the hangar is full", until_hours=Decimal("720"))
    make_feed(shop.dora)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
