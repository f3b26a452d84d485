"""The number grammar: what is read, what is refused, and what the refusal says."""

from __future__ import annotations

import random
import time

import pytest

from hingeline.errors import InputRefused
from hingeline.units import number_text

READ_IN_A_FILE = {
    "0": "0",
    "12.60": "12.60",
    "-1.5": "-1.5",
    "\u22121.5": "-1.5",
    "+1.5": "1.5",
    ".5": "0.5",
    "-.5": "-0.5",
    "007": "007",
    "1e3": "1e3",
    "1.5E-12": "1.5e-12",
    "1e\u22123": "1e-3",
    "1e+3": "1e3",
    " 4 ": "4",
    "\u00a04\u202f": "4",
}

READ_ON_A_PAGE = {
    "1,5": "1.5",
    "1.5": "1.5",
    "1.234": "1.234",
    "1,234": "1.234",
    "\u22121,5": "-1.5",
    ",5": "0.5",
    "123456789.123456789": "123456789.123456789",
}

REFUSED_IN_A_FILE = {
    "": "is missing",
    "   ": "is missing",
    "abc": "no number at its beginning",
    "12..5": "more than one decimal point",
    "--3": "one sign at most",
    "- 3": "one sign at most",
    "nan": "not a number we can weigh with",
    "-NaN": "not a number we can weigh with",
    "inf": "not a number we can weigh with",
    "Infinity": "not a number we can weigh with",
    "1e400": "two digits at most",
    "1,5": "as a point: 1.5.",
    "1,234": "1.234 if it is the decimal mark, 1234 if it parts the thousands",
    "1.234,5": "thousands mark",
    "1,234,567": "thousands mark",
    "1 234": "thousands mark",
    "1\u202f234.5": "thousands mark",
    "1'234": "thousands mark",
    "1\u2019234": "thousands mark",
    "１.５": "plain digits 0 to 9",
    "٣": "plain digits 0 to 9",
    "1½": "plain digits 0 to 9",
    "1_000": "underscore out: 1000",
    "0x10": "plain digits",
    "0b11": "plain digits",
    "3 1/4": "write 3.25",
    "-1/4": "write -0.25",
    "1/3": "as a decimal number",
    "1/0": "divided by 0",
    "5.": "a digit may be missing. Write 5 or 5.0.",
    "255 ± 2": "uncertainty has an entry of its own",
    "10-12": "not a range",
    "1 2": "without spaces inside",
    "1\u200b5": "cannot be seen, U+200B",
    "1\n": "cannot be seen, U+000A",
    "\ud8001": "cannot be seen, U+D800",
    "9" * 41: "at most 40 characters",
    "9" * 1_000_000: "at most 40 characters",
}

REFUSED_ON_A_PAGE = {
    "1.234,5": "thousands mark",
    "1 234": "thousands mark",
    "1'234": "thousands mark",
    "1e3": "without an exponent",
    "1234567890": "at most 9 digits before",
    "0.1234567890": "9 after it",
    "nan": "not a number we can weigh with",
    "1_000": "underscore out",
    "1,5,2": "thousands mark",
    "5,": "a digit may be missing",
}


@pytest.mark.parametrize(("text", "plain"), READ_IN_A_FILE.items())
def test_a_number_in_a_file_comes_back_plain(text, plain):
    """A well-formed number comes back in ASCII, with its digits as typed."""
    assert number_text(text) == plain


@pytest.mark.parametrize(("text", "plain"), READ_ON_A_PAGE.items())
def test_a_number_on_a_page_may_have_a_decimal_comma(text, plain):
    """Point and comma are both decimal marks on a page."""
    assert number_text(text, page=True) == plain


@pytest.mark.parametrize(("text", "remedy"), REFUSED_IN_A_FILE.items(), ids=lambda text: ascii(text)[:24])
def test_a_file_refuses_with_the_remedy_that_fits(text, remedy):
    """Each fault is refused once, at its field, with its own remedy."""
    with pytest.raises(InputRefused) as caught:
        number_text(text, field="arm")
    (refusal,) = caught.value.refusals
    assert refusal.field == "arm"
    assert remedy in refusal.remedy
    assert refusal.expected == "a number such as -12.6 (digits 0 to 9, one decimal point)"


@pytest.mark.parametrize(("text", "remedy"), REFUSED_ON_A_PAGE.items())
def test_a_page_refuses_with_the_remedy_that_fits(text, remedy):
    """The page's grammar has no exponent, no grouping and at most 9 + 9 digits."""
    with pytest.raises(InputRefused) as caught:
        number_text(text, page=True)
    (refusal,) = caught.value.refusals
    assert remedy in refusal.remedy
    assert "one decimal point or comma" in refusal.expected


@pytest.mark.parametrize("given", [None, 1.5, 3, True, b"1"])
def test_only_text_is_read(given):
    """A float has already lost how it was typed, so it is refused."""
    with pytest.raises(InputRefused, match="in quotes"):
        number_text(given)


def test_a_refusal_can_always_be_printed():
    """What cannot be seen, half of a surrogate pair too, is spelled out; a long value is cut."""
    with pytest.raises(InputRefused) as caught:
        number_text("\ud800\x1b[2J1" + "x" * 500)
    shown = caught.value.refusals[0].value
    assert shown.encode("utf-8").startswith(rb"\ud800\u001b[2J1xxx")
    assert len(shown) < 100


# --------------------------------------------------- an acceptor that shares nothing with the grammar

OUTER_SPACES = (0x20, 0x09, 0xA0, 0x2007, 0x2009, 0x200A, 0x202F)


def accepted(text: str, page: bool) -> bool:
    """Walk through the text character by character: the grammar of the contract, written a second time."""
    while text and ord(text[0]) in OUTER_SPACES:
        text = text[1:]
    while text and ord(text[-1]) in OUTER_SPACES:
        text = text[:-1]
    if len(text) > 40:
        return False
    if text and text[0] in "+-\u2212":
        text = text[1:]
    before, text = run_of_digits(text)
    after = None
    if text and (text[0] == "." or (page and text[0] == ",")):
        after, text = run_of_digits(text[1:])
    if after == 0 or (before == 0 and after is None):
        return False
    if page:
        return not text and before <= 9 and (after or 0) <= 9
    if text and text[0] in "eE":
        text = text[1:]
        if text and text[0] in "+-\u2212":
            text = text[1:]
        exponent, text = run_of_digits(text)
        if exponent not in (1, 2):
            return False
    return not text


def run_of_digits(text: str) -> tuple[int, str]:
    """Count the ASCII digits at the beginning."""
    count = 0
    while count < len(text) and 48 <= ord(text[count]) <= 57:
        count += 1
    return count, text[count:]


def random_texts(how_many: int, seed: int) -> list[str]:
    """Strings out of the characters that numbers, and mistakes in numbers, are made of."""
    dice = random.Random(seed)
    alphabet = "0123456789" * 3 + "0012..,,eE+-\u2212_ '\u00a0\u2009\u200b１٣nainfx/½\n"
    return ["".join(dice.choices(alphabet, k=dice.randrange(12))) for _ in range(how_many)]


@pytest.mark.slow
@pytest.mark.parametrize("page", [False, True], ids=["file", "page"])
def test_of_100000_random_strings_only_the_well_formed_are_read(page):
    """Grammar and hand-written acceptor agree on every string, and the number read is the one typed."""
    begin, read = time.perf_counter(), 0
    for text in random_texts(100_000, seed=20 + page):
        try:
            plain = number_text(text, page=page)
        except InputRefused:
            assert not accepted(text, page), ascii(text)
            continue
        read += 1
        assert accepted(text, page), ascii(text)
        assert plain.isascii()
        assert float(plain) == float(text.strip().replace("\u2212", "-").replace(",", "."))
    assert read > 5_000, "too few well-formed strings for the test to mean anything"
    assert time.perf_counter() - begin < 30, "a pattern that runs back and forth"
