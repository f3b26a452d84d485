"""The worksheet: what it says, what it carries, and that nothing makes it run over."""

from __future__ import annotations

import io
import json
from typing import Any

import pypdf
import pytest

from hingeline_app.report import SheetDetails, read_worksheet, record_digest
from hingeline_app.report.pictures import beam_picture, limit_bar
from hingeline_app.report.view import sheet_view
from hingeline_app.report.words import statement_lines
from hingeline_app.report.worksheet import complete_view
from hingeline_app.said import reading_in, say
from tests.hingeline_app.report.demo import (
    MADE_AT,
    SHEET,
    WEIGHING,
    cause,
    demo_pdf,
    demo_result,
    moment,
    quantity,
    support,
)
from tests.hingeline_app.report.printed import printed_pages


def opened(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def text_of(pdf: bytes) -> str:
    return plain("\n".join(page.extract_text() for page in opened(pdf).pages))


def plain(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u200b", "").split())


@pytest.fixture(scope="module")
def demo() -> bytes:
    return demo_pdf()


def test_the_normal_case_is_one_page_on_either_paper(demo: bytes) -> None:
    assert len(opened(demo).pages) == 1
    letter = opened(demo_pdf(paper="letter"))
    assert len(letter.pages) == 1
    assert [float(side) for side in letter.pages[0].mediabox[2:]] == [612.0, 792.0]


def test_the_same_input_gives_the_same_bytes(demo: bytes) -> None:
    assert demo_pdf() == demo


def test_it_says_the_statement_the_numbers_and_the_rule(demo: bytes) -> None:
    text = text_of(demo)
    for words in (
        "Outside",
        "2.106 ± 0.044 N·m tail-heavy, 0.006 N·m beyond the upper limit.",
        "This is by the simple rule; by the guarded rule: too close to tell.",
        "0.842 kg × 9.80665 m/s² × 0.255 m = 2.106 N·m tail-heavy",
        "± is the expanded uncertainty, k = 2",
        "0.00 … 2.10 N·m tail-heavy",
        "Inside the limits the scale shows 0 … 839 g (guarded 18 … 822 g).",
        "friction in the bearings",
        "42 %",
        "Scale HL-3, calibrated 4 Nov 2026. Tare 0 g. Mean less tare 842 g. Local gravity 9.80665 m/s².",
        "Second inspection · a different person",
        "Work to the approved data: this shows its limits and does not replace them. Not a release.",
        "Not stated, so counted as nothing: air currents.",
        "side 1 of 1",
    ):
        assert words in text, words


def test_the_title_block_holds_what_was_given(demo: bytes) -> None:
    text = text_of(demo)
    for words in (
        "Fenholt workshop",
        "Merle T2 · T2-07",
        "T2-34-110, 0071",
        "0412",
        "Data sheet 7, issue C",
        "4.100 kg",
    ):
        assert words in text


def test_it_is_a_tagged_archival_pdf_with_title_and_described_pictures(demo: bytes) -> None:
    reader = opened(demo)
    metadata = reader.xmp_metadata
    assert reader.metadata is not None
    assert reader.metadata.title == "Weighing worksheet: Elevator, left half"
    assert metadata is not None
    assert (metadata.pdfaid_part, metadata.pdfaid_conformance) == ("3", "A")
    assert bool(reader.root_object["/MarkInfo"]["/Marked"])
    alternatives = alternative_texts(reader)
    assert any(text.startswith("Side view, to scale along the beam. Scale pushes up 8.257") for text in alternatives)
    assert any(text.startswith("Limit bar. Approved limits") for text in alternatives)


def alternative_texts(reader: pypdf.PdfReader) -> list[str]:
    found, open_nodes = [], [reader.root_object["/StructTreeRoot"]]
    while open_nodes:
        node = open_nodes.pop().get_object()
        if isinstance(node, list):
            open_nodes += node
        elif isinstance(node, dict):
            if "/Alt" in node:
                found.append(str(node["/Alt"]))
            if "/K" in node:
                open_nodes.append(node["/K"])
    return found


def test_both_parts_of_the_record_are_inside_byte_for_byte_with_their_relationship(demo: bytes) -> None:
    reader = opened(demo)
    assert reader.attachments["weighing.toml"] == [WEIGHING.encode()]
    assert json.loads(reader.attachments["result.json"][0]) == demo_result()
    files = {str(f.get_object()["/F"]): f.get_object()["/AFRelationship"] for f in reader.root_object["/AF"]}
    assert files == {"weighing.toml": "/Source", "result.json": "/Data"}


def test_what_was_made_reads_back_with_its_printed_check_sum(demo: bytes) -> None:
    read = read_worksheet(demo)
    assert read.weighing_text == WEIGHING
    assert read.result == demo_result()
    assert read.printed_digest == record_digest(WEIGHING, demo_result())


def test_the_check_sum_covers_input_and_result_but_not_the_circumstances() -> None:
    digest = record_digest(WEIGHING, demo_result())
    assert record_digest(WEIGHING, demo_result(about={"version": "9"})) == digest
    assert record_digest(WEIGHING + " ", demo_result()) != digest
    assert record_digest(WEIGHING, demo_result(statement="inside")) != digest


def test_only_our_own_fonts_are_used(demo: bytes) -> None:
    names = {str(font.get_object()["/BaseFont"]) for font in opened(demo).pages[0]["/Resources"]["/Font"].values()}
    assert names
    assert all("Barlow" in name or "DejaVu" in name for name in names)


def test_text_can_never_become_code() -> None:
    hostile = '#panic("x") #read("/etc/passwd") $x$ *b* _i_ <a> @b \\ " ]]] }}} //'
    text = text_of(demo_pdf(sheet=SheetDetails(workshop=hostile), notes=[hostile]))
    assert '#panic("x") #read("/etc/passwd") $x$ *b* _i_ <a> @b' in text


def test_characters_that_no_font_has_are_printed_as_a_box_and_kept_in_the_record() -> None:
    name = "Höhenruder 昇降舵 \U0001f6e9 \u202eevil\u202c ő"
    pdf = demo_pdf(surface={"name": name, "mass": None, "hinge_to_trailing_edge": None}, weighing=f'name = "{name}"')
    text = text_of(pdf)
    assert "Höhenruder □□□ □ □evil□ ő" in text
    assert "Characters that the fonts of this sheet lack are printed as □." in text
    read = read_worksheet(pdf)
    assert name in read.weighing_text
    assert read.result["surface"]["name"] == name


def test_a_sheet_without_missing_characters_says_nothing_of_them(demo: bytes) -> None:
    assert "□" not in text_of(demo)


def test_blanks_are_left_where_nothing_was_given() -> None:
    text = text_of(demo_pdf(sheet=SheetDetails()))
    assert "calibrated on ____" in text
    assert "Merle T2 data sheet 7, issue C, page 3" in text


def test_without_limits_there_is_no_statement_and_it_is_said() -> None:
    text = text_of(
        demo_pdf(
            limits={"lower": None, "upper": None, "guarded_lower": None, "guarded_upper": None},
            statement=None,
            statement_simple=None,
            statement_guarded=None,
            static_moment=moment(1.2, None),
            budget=[],
            reading_window=None,
            notes=["No limits are given, so no statement is made."],
        )
    )
    assert "No statement" in text
    assert "1.2 N·m tail-heavy (no ± could be given), no limits given." in text
    assert "none in force" in text
    assert "No limits are given, so no statement is made." in text


def test_a_worse_statement_about_the_mass_leads() -> None:
    mass = {
        "of": "mass",
        "value": quantity(4.4, "kg"),
        "lower": None,
        "upper": quantity(4.3, "kg"),
        "statement_simple": "outside",
        "statement_guarded": "outside",
    }
    own = {
        "of": "static moment",
        "value": moment(1.0, 0.04),
        "statement_simple": "inside",
        "statement_guarded": "inside",
    }
    text = text_of(demo_pdf(static_moment=moment(1.0, 0.04), statements=[own, mass], statement_guarded="outside"))
    result = demo_result(static_moment=moment(1.0, 0.04), statements=[own, mass])
    assert (limit_bar(result).statement, beam_picture(result).statement) == ("inside", "inside")
    assert "Outside Mass 4.4 kg, limits up to 4.30 kg: outside. 1.000 ± 0.040 N·m tail-heavy" in text


def test_another_limits_value_keeps_its_uncertainty_on_paper_as_on_the_page() -> None:
    """A weighing's own document states the U of a mass beside its value; it stands on the sheet, in each language."""
    mass = {
        "of": "mass",
        "value": quantity(4.21, "kg"),
        "expanded_uncertainty": quantity(0.012, "kg"),
        "lower": quantity(3.8, "kg"),
        "upper": quantity(4.6, "kg"),
        "statement_simple": "inside",
        "statement_guarded": "inside",
    }
    (line,) = [each for each in statement_lines(demo_result(statements=[mass])) if each.startswith("Mass")]
    assert line.replace("\u00a0", " ") == "Mass 4.210 ± 0.012 kg, limits 3.80 … 4.60 kg: inside."
    with reading_in("de"):
        assert say(line).replace("\u00a0", " ") == "Masse 4.210 ± 0.012 kg, Grenzen 3.80 … 4.60 kg: innerhalb."
    stated = {
        **mass,
        "value": {**quantity(4.1, "kg"), "typed": "4.100 kg"},
        "expanded_uncertainty": quantity(0.0, "kg"),
    }
    (line,) = [each for each in statement_lines(demo_result(statements=[stated])) if each.startswith("Mass")]
    assert line.replace("\u00a0", " ") == "Mass 4.100 kg, limits 3.80 … 4.60 kg: inside."


def test_a_mass_between_two_bands_is_not_told_beside_limits_that_it_keeps() -> None:
    """0.92 kg between 0.70 … 0.90 and 0.95 … 1.00 kg: "limits 0.70 … 1.00 kg: outside" contradicts itself."""
    mass = {
        "of": "mass",
        "value": {**quantity(0.92, "kg"), "typed": "0.92 kg"},
        "expanded_uncertainty": quantity(0.0, "kg"),
        "lower": quantity(0.7, "kg"),
        "upper": quantity(1.0, "kg"),
        "statement_simple": "outside",
        "statement_guarded": "outside",
    }
    told = {"en": "Mass 0.92 kg, in none of the mass bands: outside.",
            "de": "Masse 0.92 kg, in keinem der Massenbereiche: außerhalb.",
            "fr": "Masse 0.92 kg, dans aucune des plages de masse : à l'extérieur."}  # fmt: skip
    (line,) = [each for each in statement_lines(demo_result(statements=[mass])) if each.startswith("Mass")]
    for language, words in told.items():
        with reading_in(language):
            assert say(line).replace("\u00a0", " ").replace("\u202f", " ").replace("\u2019", "'") == words
    heavy = {**mass, "value": quantity(1.1, "kg")}
    (line,) = [each for each in statement_lines(demo_result(statements=[heavy])) if each.startswith("Mass")]
    assert line.replace("\u00a0", " ") == "Mass 1.1 kg, limits 0.70 … 1.00 kg: outside."


def test_limits_typed_in_another_unit_are_also_shown_as_typed() -> None:
    limits = {"lower": None, "upper": quantity(2.0986231, "N m", typed="21.4 kg cm")}
    assert "(21.4 kg cm as typed)" in text_of(demo_pdf(limits=limits))


def _several() -> dict[str, Any]:
    grams = [quantity(800.0 + number, "g") for number in range(5)]
    supports = [support(grams, quantity(802.0, "g"), 7.865, arm=quantity(0.2 + 0.02 * n, "m")) for n in range(3)]
    pair = {"rising": [quantity(8.4, "N")], "falling": [quantity(8.1, "N")]}
    supports.append(support([], quantity(8.25, "N"), 8.25, side="forward", **pair))
    return {
        "supports": supports,
        "hung": [{"mass": quantity(0.431, "kg", typed="0.95 lb"), "arm": quantity(0.32, "m"), "side": "forward"}],
        "parts": [
            {
                "name": "tab pushrod",
                "state": "not fitted",
                "mass": quantity(0.04, "kg", typed="40 g"),
                "arm": quantity(0.12, "m"),
                "side": "aft",
            }
        ],
        "terms": [{"name": f"support {n + 1}", "moment": quantity(0.5 - n, "N m")} for n in range(6)],
    }


@pytest.mark.slow
def test_several_supports_stand_in_a_table_with_the_sum_written_out() -> None:
    text = text_of(demo_pdf(**_several()))
    for words in (
        "800 801 802 803 804 g",
        "rising 8.4; falling 8.1 N",
        "hung mass 1",
        "0.95 lb",
        "tab pushrod, not fitted",
        "The sum written out",
        "support 6 −4.500",
        "by hand, support 3",
    ):
        assert words in text, words


LONG = "Left-hand inboard trimmable elevator half with anti-servo tab and static wicks " * 4


def _overfull() -> dict[str, Any]:
    readings = [quantity(800.0 + number, "g") for number in range(200)]
    return {
        "surface": {"name": LONG + "X" * 200, "mass": None, "hinge_to_trailing_edge": None},
        "supports": [support(readings, quantity(899.5, "g"), 8.82)],
        "budget": [
            cause(f"cause {n} with a long name, longer than its column", 0.001, "kg", 1 / 12) for n in range(12)
        ],
        "notes": [f"Note {n}: " + "a full sentence that wraps over its line. " * 3 for n in range(20)],
        "cautions": ["A caution is a sentence with a subject. " * 3] * 3,
    }


OVERFULL_SHEET = SheetDetails("W" * 150, "A" * 120, LONG, "s" * 90, "j" * 60, "w" * 30, "d" * 40, "c" * 60, "doc" * 80)


def test_what_is_too_much_for_a_page_goes_on_or_is_counted() -> None:
    pdf = demo_pdf(sheet=OVERFULL_SHEET, **_overfull())
    text = text_of(pdf)
    assert len(opened(pdf).pages) > 1
    assert "200 readings, 800 g … 999 g, listed on the last sheet" in text
    for number in (800, 899, 999):
        assert f" {number} " in f"{text} "
    assert "6 more, listed in the attached result" in text
    assert all(f"Note {number}:" in text for number in range(20))


CASES = {"demo": (SHEET, {}), "several": (SHEET, _several()), "overfull": (OVERFULL_SHEET, _overfull())}
MARGIN = 10  # pixels at 36 to the inch: 7 mm of the 10 mm that are kept free


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES)
def test_nothing_is_printed_in_the_margin_so_no_text_is_cut(case: str, paper: str) -> None:
    sheet, changes = CASES[case]
    view = sheet_view(demo_result(**changes), WEIGHING, sheet, MADE_AT, "0.1.0")
    complete = complete_view(view, demo_result(), WEIGHING, MADE_AT, paper)
    for page in printed_pages(complete):
        assert min(min(line) for line in page) < 100, "a page without ink: the picture was not read"
        for row, line in enumerate(page):
            assert min(line[:MARGIN] + line[-MARGIN:]) > 250, f"ink in the margin, row {row}"
