"""``hingeline explain``: a page that tells why, for each command that computes."""

from __future__ import annotations

from importlib.resources import files
from textwrap import fill

import click

from hingeline.errors import InputRefused
from hingeline_app.cli.output import columns, put, to_terminal, write_json

FORMAT = "hingeline/explanation/1"

TOPICS = {
    "weigh": "The static moment about the hinge line: equation, signs, methods, statement.",
    "uncertainty": "Where the ± comes from, and how it is combined.",
    "ballast": "The smallest correction that the approved data allows, and what it does.",
    "coating": "What paint, filler and stripping do to mass and moment.",
    "swing": "The moment of inertia about the hinge line, four ways.",
    "dynamic": "Static beside dynamic balance: S, I, K and K/I.",
    "due": "When a check is due: counters, calendar, tolerance, the rule it counts by, forecast.",
    "limits": "Printed limits that contradict themselves, and how that is found.",
    "stick": "What an unbalanced surface does at the stick, and why that shows nothing about flutter.",
    "motion": "What a recording shows: rules, intervals, onset, tap, and what it cannot say.",
    "flutter": "Where growth starts: freedoms, air, what the balance weight does, what is left out.",
    "arm": "The arm of a balance weight: section, stress, frequency, crack; never a longer interval.",
}


@click.command("explain", short_help="Explain a command: the equation, the signs, the sources.")
@click.argument("topic", metavar="[TOPIC]", required=False)
@click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")
def command(topic: str | None, as_json: bool) -> None:
    """Explain a command: the equation, the signs, the sources.

    TOPIC is a command that computes, or uncertainty; without it the topics are listed.

    Example: hingeline explain weigh
    """
    text = list_of_topics() if topic is None else explanation(topic)
    if as_json:
        write_json({"format": FORMAT, "topic": topic, "text": text})
    elif topic is None and to_terminal():
        put(list_of_topics(columns()))
    elif to_terminal():
        _show(text)
    else:
        put(text.removesuffix("\n"))


def list_of_topics(width: int | None = None) -> str:
    """Name every topic with a line of what it holds; within a width, what goes on stands under its beginning."""
    widest = max(map(len, TOPICS))
    rows = [f"    hingeline explain {topic:<{widest}}   {line}" for topic, line in TOPICS.items()]
    under = " " * (len("    hingeline explain    ") + widest)
    held = rows if width is None else [fill(each, width, subsequent_indent=under) for each in rows]
    return "\n".join(["Topics:", "", *held, ""])


def explanation(topic: str) -> str:
    """Give the text of one topic, in Markdown.

    Raises
    ------
    InputRefused
        There is no such topic.
    """
    if topic not in TOPICS:
        raise InputRefused.of("TOPIC", topic, f"one of {', '.join(TOPICS)}", "Name one of these, or none to list them.")
    place = files("hingeline_app.cli").joinpath("explanations", f"{topic}.md")
    return place.read_text(encoding="utf-8")


def _show(text: str) -> None:
    """Set the Markdown for a terminal; the colours of the terminal itself are used."""
    from rich.console import Console
    from rich.markdown import Markdown

    Console(width=columns(), highlight=False, emoji=False).print(Markdown(text, code_theme="ansi_light"))
