"""The steps of the records, and one more: what a later program would bring."""

from hingeline_app.records import migrations

__path__ += migrations.__path__  # type: ignore[has-type]
