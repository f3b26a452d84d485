"""The record that a worksheet carries: the input as typed, the result, and a check sum over both."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

INPUT_NAME, RESULT_NAME, JOB_NAME = "weighing.toml", "result.json", "job.json"
RESULT_FORMAT = "hingeline/weighing-result/1"
CORRECTION_FORMAT = "hingeline/ballast-result/1"

# What each kind of sheet carries: the file of its input, and a field that no result lacks.
INPUT_NAMES = {
    RESULT_FORMAT: INPUT_NAME,
    CORRECTION_FORMAT: "ballast.toml",
    "hingeline/coating-result/1": "coating.toml",
    "hingeline/swing-result/1": "swing.toml",
    "hingeline/dynamic-result/1": "dynamic.toml",
    "hingeline/arm-result/1": "arm.toml",
}
NEVER_MISSING = {
    RESULT_FORMAT: "static_moment",
    CORRECTION_FORMAT: "moment_after",
    "hingeline/coating-result/1": "surfaces",
    "hingeline/swing-result/1": "inertia",
    "hingeline/dynamic-result/1": "static_moment",
    "hingeline/arm-result/1": "natural_frequency",
}
DIGEST_LENGTH = 12

Result = Mapping[str, Any]


def numbered(name: str, record: str) -> str:
    """Give the name of an attachment where several records are in one file: ``weighing-0412-1.toml``."""
    stem, _, kind = name.rpartition(".")
    plain = "".join(sign if sign.isalnum() or sign in "-_" else "_" for sign in record)
    return f"{stem}-{plain}.{kind}" if plain else name


def record_digest(weighing_text: str, result: Result) -> str:
    """Return the check sum of a record: the first twelve hexadecimal digits of its SHA-256.

    It is taken of the canonical JSON (keys sorted, no spaces) of the input and of the result
    without its block ``about``.
    """
    kept = {name: value for name, value in result.items() if name != "about"}
    record = {"input": weighing_text, "result": kept}
    text = json.dumps(record, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return hashlib.sha256(text.encode()).hexdigest()[:DIGEST_LENGTH]


def spaced_digest(digest: str) -> str:
    """Write a check sum in groups of four, as it is printed."""
    return "\u00a0".join(digest[start : start + 4] for start in range(0, len(digest), 4))


def result_text(result: Result) -> str:
    """Write the result as the JSON that is attached."""
    return json.dumps(result, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
