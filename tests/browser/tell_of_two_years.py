"""Fill a folder with an invented workshop: a surface was released two years ago, a work order is on its bench today.

    tell_of_two_years.py FOLDER

The clock is set back for what was done then: these entries are made by the same acts as any other, on that day.
Prints the secret of the bench's tablet.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.surroundings import set_up_django

AGO = timedelta(days=731)
TIGHTER = "1.90 N m"


class ThatDay(datetime):
    """A clock that is two years behind."""

    @classmethod
    def now(cls, tz: Any = None) -> Any:
        return datetime.now(tz) - AGO


@contextmanager
def two_years_ago() -> Iterator[None]:
    """Set the clock back for everything that the records and the story ask for the time."""
    ours = ("hingeline_app.records", "hingeline_app.demo")
    parts = [
        part for name, part in sys.modules.items() if name.startswith(ours) and vars(part).get("datetime") is datetime
    ]
    for part in parts:
        vars(part)["datetime"] = ThatDay
    yield
    for part in parts:
        vars(part)["datetime"] = datetime


def main(folder: Path) -> None:
    """Fill it."""
    set_up_django(ServeOptions(folder, None, loopback=True), ("localhost", "127.0.0.1"))
    from hingeline_app.demo import approved, story
    from hingeline_app.demo.hangar import SCALE_UNCERTAINTY
    from hingeline_app.records.actions.confirming_time import confirm_time
    from hingeline_app.records.actions.equipment import add_scale
    from hingeline_app.records.actions.limits import add_issue
    from hingeline_app.records.models import ApprovedDocument
    from hingeline_app.records.queries.clock_ahead import clock_ahead
    from hingeline_app.records.updating import bring_up_to_date

    bring_up_to_date(datetime.now(UTC))
    with two_years_ago():
        shop = story.found_workshop()
        hangar, rows = story.fill_hangar(shop), story.enter_approved_data(shop)
        story._released(shop, hangar, rows)
    scale = add_scale(
        shop.mara, "HL-4", step="5 g", largest="15 kg", uncertainty=SCALE_UNCERTAINTY,
        certificate_expires=date.today() + timedelta(days=300),
    )  # fmt: skip
    # Nothing was entered for two years: an administrator says that the clock is right.
    waiting = clock_ahead(shop.ruth.workshop.pk)
    assert waiting is not None
    confirm_time(shop.ruth, waiting.of)
    hangar = hangar._replace(scale=scale.pk)
    seven = ApprovedDocument.objects.get(number="DS 7")
    issue = add_issue(shop.mara, seven.pk, "D", date(2026, 5, 4))
    for name in ("Elevator, left half", "Elevator, right half"):
        printed = {**approved.ELEVATOR, "moment": ["0.00 N m", TIGHTER], "surface": name}
        rows[name] = approved._twice(shop, issue.pk, name, "3", printed)
    story._repaint(shop, hangar, rows)
    sys.stdout.write(shop.tablet_token)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
