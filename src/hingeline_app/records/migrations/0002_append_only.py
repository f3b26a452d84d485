"""The database refuses to change, delete or replace an entry of the ledger."""

from typing import Any, ClassVar

from django.db import migrations

from hingeline_app.records.triggers import creating_commands


def set_up(_apps: Any, editor: Any) -> None:
    """Create the triggers of this database."""
    for command in creating_commands(editor.connection.vendor):
        with editor.connection.cursor() as cursor:
            cursor.execute(command)


class Migration(migrations.Migration):
    """The triggers; there is no way back."""

    dependencies: ClassVar = [("records", "0001_initial")]
    operations: ClassVar = [migrations.RunPython(set_up)]
