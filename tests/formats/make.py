"""Write a frozen document for every record that has none yet. What is there is never written again.

Run from the root: ``python -m tests.formats.make``. A frozen document is a promise: it was once handed
to somebody, and must load for ever. So when a format gets a new version, its old files stay.
"""

from __future__ import annotations

import json

from hingeline.document import to_document
from tests.formats.records import FOLDER, RECORDS


def make() -> list[str]:
    """Write what is missing, and name it."""
    made = []
    for name, record in RECORDS.items():
        path = FOLDER / f"{name}.json"
        if not path.exists():
            text = json.dumps(to_document(record()), allow_nan=False, ensure_ascii=False, indent=1)
            path.write_text(text + "\n", encoding="utf-8")
            made.append(path.name)
    return made


if __name__ == "__main__":
    print("\n".join(make()) or "Every record is frozen already.")
