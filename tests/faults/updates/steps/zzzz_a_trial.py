"""A step of a later program: a table, filled, slowly enough to be killed in the middle."""

from pathlib import Path
from typing import ClassVar

from django.db import migrations

from hingeline_app.records import migrations as own

LAST = max(path.stem for path in Path(own.__path__[0]).glob("[0-9]*.py"))
FILL = (
    "INSERT INTO records_trial SELECT value FROM (WITH RECURSIVE count(value) AS "
    "(SELECT 1 UNION ALL SELECT value + 1 FROM count WHERE value < 20000) SELECT value FROM count)"
)


class Migration(migrations.Migration):
    """One more table."""

    dependencies: ClassVar = [("records", LAST)]
    operations: ClassVar = [
        migrations.RunSQL("CREATE TABLE records_trial (number integer)"),
        migrations.RunSQL(FILL),
        migrations.RunSQL("CREATE INDEX records_trial_number ON records_trial (number)"),
    ]
