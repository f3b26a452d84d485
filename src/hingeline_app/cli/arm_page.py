"""The page of ``hingeline arm``: what binds first, then why, the cautions last. Every number is an estimate."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hingeline_app.cli.budget_table import show_budget
from hingeline_app.cli.page import Page
from hingeline_app.cli.sections import Sections
from hingeline_app.figures.arm.crack_words import detection_pairs, growth_pairs
from hingeline_app.figures.arm.words import (
    figures,
    interval_sentence,
    margin_text,
    measured,
)
from hingeline_app.figures.wording import format_number, format_percent, format_probability, outward

Document = Mapping[str, Any]
Pairs = Iterator[tuple[str, str]]

PICTURE_WORDS = "The arm to scale, with what is lost and the places to look at."


def show_arm(document: Document) -> None:
    """Show what a model of an arm says."""
    page = Page()
    fill_arm(page, document)
    page.show()


def fill_arm(page: Page | Sections, document: Document, *, picture: str = "") -> None:
    """Put together what a model of an arm says."""
    page.title(document["name"] or "The arm", "arm of a balance weight: an estimate, never a permission")
    page.line(interval_sentence(document["crack"]))
    if picture:
        page.picture(picture, PICTURE_WORDS)
    page.pairs(_section(document), heading="The section at the root (from what was measured)")
    _readings(page, document)
    _loads(page, document)
    page.pairs(_motion(document), heading="How it swings (estimates)")
    _crack(page, document["crack"])
    _stress_life(page, document["stress_life"])
    show_budget(page, _in_megapascals(document["budget"]), "stress under the normal load", "MPa")
    page.sentences("Notes", document["notes"])
    page.sentences("Assumed", document["assumptions"])
    page.cautions(document["cautions"])


def _in_megapascals(budget: Sequence[Document]) -> list[Document]:
    return [{**row, "contribution": row["contribution"] / 1e6} for row in budget]


def _section(document: Document) -> Pairs:
    section, wall = document["section"], document["wall"]
    yield "area", measured(section["area"], 1e6, "mm^2")
    yield "second moment of area", measured(section["second_moment"], 1e12, "mm⁴")
    yield "section modulus", measured(section["section_modulus"], 1e9, "mm^3")
    yield "of the sound one's modulus", format_percent(section["ratio_to_sound"])
    if section["wall_left"] is not None:
        yield "wall left, where most is gone", measured(section["wall_left"], 1e3, "mm")
    if section["depth_word"] is not None:
        yield "the depth in the trade's word", f"{section['depth_word']} (the word says nothing of strength)"
    if section["part_of_wall_lost"] is not None:
        yield "part of the wall lost", format_percent(section["part_of_wall_lost"])
    if wall is not None:
        yield from _wall(wall)


def _readings(page: Page | Sections, document: Document) -> None:
    """Show each place of the wall gauge; the lowest counts."""
    rows = [
        (
            each["position"],
            measured(each["wall"], 1e3, "mm"),
            figures(1e3 * each["nominal"]["value"], "mm", 3),
            measured(each["lost"], 1e3, "mm"),
            format_percent(each["part_lost"]),
            "counts" if each["counts"] else "",
        )
        for each in document["readings"]
    ]
    if rows:
        head = ("place", "wall", "nominal", "lost", "of the wall", "")
        page.table("Wall readings, each with the gauge's ± (the lowest counts)", head, rows)


def _wall(wall: Document) -> Pairs:
    smallest = figures(1e3 * wall["smallest"]["value"], "mm", 3)
    yield "smallest wall, approved data", f"{smallest}{', ' + wall['source'] if wall['source'] else ''}"
    margin = 1e3 * wall["margin"]["value"]
    yield "against it", f"{wall['statement_simple']}, by {figures(abs(margin), 'mm', 2)}"
    if wall["probability_within"] is not None:
        yield "probability of being inside", format_probability(wall["probability_within"])


def _loads(page: Page | Sections, document: Document) -> None:
    rows = [
        (
            f"{case['direction']}, {case['factor']:g} g",
            measured(case["moment"], 1.0, "N m") if case["moment"]["value"] else "—",
            figures(case["sound_stress"]["value"] / 1e6, "MPa", 3),
            measured(case["stress"], 1e-6, "MPa"),
            margin_text(case["margin_yield"], case["margin_yield_uncertainty"]),
            margin_text(case["margin_ultimate"], case["margin_ultimate_uncertainty"]),
        )
        for case in document["loads"]
    ]
    head = ("design load", "moment at the root", "stress, sound", "stress, now", "margin, yield", "margin, ultimate")
    page.table(f"Estimated stress under the {document['loads_are']} loads", head, rows)
    bolts = document["bolts"]
    if bolts is not None:
        page.pairs(_bolts(bolts), heading="The worse of two bolts, normal load (estimates)")


def _bolts(bolts: Document) -> Pairs:
    yield "load, ultimate, fitting factor in it", figures(bolts["load"]["value"], "N")
    shear, bearing = bolts["shear_stress"]["value"] / 1e6, bolts["bearing_stress"]["value"] / 1e6
    yield "shear stress, margin", f"{figures(shear, 'MPa')}, {margin_text(bolts['margin_shear'])}"
    yield "bearing stress, margin", f"{figures(bearing, 'MPa')}, {margin_text(bolts['margin_bearing'])}"


def _motion(document: Document) -> Pairs:
    own = document["natural_frequency"]
    yield "own frequency with the weight", measured(own, 1.0, "Hz")
    yield "the same by Rayleigh", figures(own["rayleigh"]["value"], "Hz")
    yield "of the sound arm's", format_percent(own["ratio_to_sound"])
    yield from _effect(document["effectiveness"])
    yield from _oscillation(document["oscillation"])
    guide = document["frequency_guide"]
    if guide is not None:
        highest = figures(guide["highest_surface_frequency"]["value"], "Hz")
        yield "over the surface's highest", f"{format_number(guide['ratio'], 2)} times {highest}"
        yield "a guide, from memory", f"1.5 times: {figures(guide['guide_frequency']['value'], 'Hz')}; no verdict"


def _effect(effect: Document | None) -> Pairs:
    if effect is None:
        return
    phase = math.degrees(effect["phase"]["value"])
    times = f"{format_number(effect['magnitude'], 2)} times its mass"
    turned = "against its sense: it feeds the motion" if abs(phase) > 90.0 else f"phase {format_number(phase, 0)}°"
    yield f"the weight at {figures(effect['frequency']['value'], 'Hz', 3)} acts as", f"{times}, {turned}"


def _oscillation(motion: Document | None) -> Pairs:
    if motion is None:
        return
    size = f"±{figures(math.degrees(motion['amplitude']['value']), 'deg', 3)}"
    stress = figures(motion["stress"]["value"] / 1e6, "MPa", 3)
    yield f"swinging {size}", f"{figures(motion['acceleration']['value'] / 9.80665, 'g', 3)} at the weight, {stress}"
    limit = figures(math.degrees(motion["amplitude_for_limit"]["value"]), "deg", 3)
    yield "the normal limit load is reached at", f"±{limit}"


def _crack(page: Page | Sections, crack: Document | None) -> None:
    if crack is None:
        return
    page.pairs(growth_pairs(crack), heading="An assumed crack (estimates)")
    if crack["detection"] is not None:
        page.pairs(detection_pairs(crack["detection"]), heading="How it would be found (estimates)")
    if crack["distribution"] is not None:
        page.pairs(_distribution(crack), heading="How the life scatters (an estimate)")


def _distribution(crack: Document) -> Pairs:
    found = crack["distribution"]
    yield "drawn", f"{found['samples']} times, seed {found['seed']}: {', '.join(found['varied']) or 'nothing'}"
    for each in found["quantiles"]:
        yield (
            f"{100.0 * each['probability']:g} % have fewer cycles than",
            figures(each["cycles"], "", 3, outward(each["probability"])),
        )
    if found["part_shorter_than_approved"] is not None:
        part = format_probability(found["part_shorter_than_approved"])
        yield "divided by the factor, less than approved", part
    if found["already_critical"]:
        yield "critical at the start", format_probability(found["already_critical"])


def _stress_life(page: Page | Sections, life: Document | None) -> None:
    if life is None:
        return
    rows: Sequence[tuple[str, ...]] = [
        (
            f"load {number}",
            figures(load["amplitude_without_mean"]["value"] / 1e6, "MPa"),
            figures(load["cycles"], "", 3),
            format_percent(load["used_per_hour"] / life["used_per_hour"]),
        )
        for number, load in enumerate(life["loads"], 1)
    ]
    head = ("load", "amplitude about zero", "cycles, a mean line", "part of the harm")
    page.table("Stress life of a sound piece: it ranks loads, and promises nothing (estimates)", head, rows)
