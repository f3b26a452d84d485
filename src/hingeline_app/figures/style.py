"""The look of the pictures: tokens by light, one rule sheet, and how both reach a picture."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Final, Literal

Light = Literal["day", "night", "sun", "paper"]
LIGHTS: Final[tuple[Light, ...]] = ("day", "night", "sun")

_VARIABLE = re.compile(r"var\(--([a-z0-9-]+)\)")


def _resource(name: str) -> str:
    return files("hingeline_app.figures").joinpath(name).read_text(encoding="utf-8")


@cache
def _all_tokens() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads(_resource("tokens.toml"))


@cache
def _rules() -> str:
    lines = _resource("drawing.css").splitlines()
    return "\n".join(line for line in lines if not line.startswith("/*"))


def tokens(light: Light) -> Mapping[str, str]:
    """Return the tokens of one light, by name; of paper: those of the sun, without its grounds."""
    if light == "paper":
        return {**_all_tokens()["sun"], **_all_tokens()["paper"]}
    return _all_tokens()[light]


def status_class(statement: str | None) -> str:
    """Return the class that colours a statement: never the only sign of it."""
    return {"inside": "in", "outside": "out", "too close to tell": "near"}.get(statement or "", "none")


def stylesheet(light: Light = "day") -> str:
    """Return CSS for a page: the tokens of ``light`` as its default, the others by ``data-light``, the rules.

    A page sets ``data-light`` on its root element to change the light.
    """
    blocks = [_token_block(":root", light)]
    blocks += [_token_block(f':root[data-light="{other}"]', other) for other in LIGHTS]
    return "\n".join([*blocks, _rules()])


def _token_block(selector: str, light: Light) -> str:
    pairs = ";".join(f"--{name}:{value}" for name, value in tokens(light).items())
    return f"{selector}{{{pairs}}}"


@cache
def resolved_rules(light: Light) -> str:
    """Return the rules with every token put in: for what knows no ``var()``, as print does not."""
    return _VARIABLE.sub(lambda found: tokens(light)[found.group(1)], _rules())


def embedded(svg: str, light: Light = "sun") -> str:
    """Return a picture that carries its own style, for a document on a screen."""
    head_end = svg.index(">") + 1
    return f"{svg[:head_end]}<style>{resolved_rules(light)}</style>{svg[head_end:]}"


def on_paper(svg: str) -> str:
    """Return a picture that carries its own style, for paper: no ground is tinted."""
    return embedded(svg, "paper")
