"""What a line that is no TOML lacks, in the words of somebody who wrote it by hand."""

from __future__ import annotations

import re

from hingeline.errors import InputRefused

_AT = re.compile(r"\(at (?:line (\d+), column (\d+)|end of document)\)")
_QUANTITY = 'A quantity stands in quotes, with a decimal point and its unit: arm = "12.6 in".'
_WORD = 'Words and quantities stand in quotes: side = "aft", arm = "12.6 in".'

# The reader's own words, what was expected, and how to mend it; the first that fits is used.
SENTENCES: tuple[tuple[str, str, str], ...] = (
    ("Expected newline or end of document", "nothing more on this line after the value", _QUANTITY),
    ("Expected '=' after a key", 'a name, "=" and a value', _WORD),
    ("Invalid value", "a value after the sign =", _WORD),
    ("Cannot overwrite a value", "each name once in a table", "This name stands twice in its table: take one out."),
    ("Duplicate inline table key", "each name once in a table", "This name stands twice in its table: take one out."),
    ("Cannot declare", "each table once", "This table stands twice, or once with [ ] and once with [[ ]]: join them."),
    ("Cannot mutate", "each table once", "This table is already complete further up: join them."),
    ("Expected ']", "a table's name in square brackets", "Close the bracket: [surface], or [[support]] for a list."),
    ("Illegal character '\\n'", "the text's end on the same line", "Close the quotes on the line they begin on."),
    ("Unterminated string", "the end of a text", "Quotes are opened and not closed before the file ends."),
    ("Expected \"'", "the end of a text", "Quotes are opened and not closed before the file ends."),
    ("Expected '\"", "the end of a text", "Quotes are opened and not closed before the file ends."),
    ("Unclosed array", "the end of a list", 'Close the list: readings = ["840 g", "845 g"].'),
    ("Unclosed inline table", "the end of a table in braces", 'Close the braces on their line: {limit = "2 mm"}.'),
    ("Unescaped '\\' in a string", "a text without single backslashes", "Leave the backslash out, or write it twice."),
    ("Invalid hex value", "a text without single backslashes", "Leave the backslash out, or write it twice."),
    ("Escaped character", "a text without single backslashes", "Leave the backslash out, or write it twice."),
    ("Illegal character", "characters that can be seen", "Take out the character that cannot be seen."),
    ("Found invalid character", "characters that can be seen", "Take out the character that cannot be seen."),
    ("Invalid initial character", "a name before the sign =", "A name is made of letters, digits, - and _ only."),
    ("Invalid statement", "a name, a sign = and a value; or [a table]", "Put # before a remark."),
)
OTHERWISE = ("a line of the file's notation, TOML", "Compare it with a numbered example.")
_CURLY = re.compile("[\u2018\u2019\u201a\u201b\u201c\u201d\u201e\u201f\u00ab\u00bb\u2033]")


def not_toml(text: str, sentence: str) -> InputRefused:
    """Refuse a text that is no TOML.

    Parameters
    ----------
    text : str
        The whole file.
    sentence : str
        What the reader says of it; its words are not shown.
    """
    lines, found = text.replace("\r\n", "\n").split("\n"), _AT.search(sentence)
    if found and found[1]:
        number, place = int(found[1]), f"line {found[1]}, column {found[2]}"
    else:
        number = max((at for at, line in enumerate(lines, 1) if line.strip()), default=1)
        place = f"line {number}, at its end"
    line = lines[min(number, len(lines)) - 1].strip(" \t")
    expected, remedy = _words_for(_AT.sub("", sentence).strip(), line)
    return InputRefused.of(place, line[:120], expected, remedy)


def _words_for(reason: str, line: str) -> tuple[str, str]:
    if _CURLY.search(line.partition("#")[0]):
        return "straight quotes", 'Type the quotes by hand: "255 mm".'
    if "\r" in line:
        return "one statement a line", "Save the file with ordinary ends of lines."
    found = ((expected, remedy) for begin, expected, remedy in SENTENCES if reason.startswith(begin))
    return next(found, OTHERWISE)
