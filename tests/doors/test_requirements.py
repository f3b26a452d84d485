"""The pinned files: the same bytes for everyone, from wherever they are fetched."""

from __future__ import annotations

import itertools
import re
import tomllib
from importlib.metadata import distributions

import pytest
from packaging.utils import canonicalize_name

from tests.doors.checkouts import ROOT

FILES = ["base.txt", "app.txt", "cluster.txt", "check.txt"]


def entries(name: str) -> list[str]:
    """Give each package with its options, comments left out."""
    text = (ROOT / "requirements" / name).read_text("utf-8").replace("\\\n", " ")
    return [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]


@pytest.mark.parametrize("name", FILES)
def test_every_package_is_pinned_and_hashed(name: str) -> None:
    """Each entry names one release and at least one SHA-256 hash, and there is nothing else."""
    assert entries(name)
    for entry in entries(name):
        assert re.fullmatch(r"[a-z0-9-]+==[^ ]+( ; [^\\]+?)?(\s+--hash=sha256:[0-9a-f]{64})+\s*", entry), entry


@pytest.mark.parametrize("name", FILES)
def test_no_host_and_no_path(name: str) -> None:
    """No address, index, host or folder of a machine stands in a requirements file."""
    text = (ROOT / "requirements" / name).read_text("utf-8")
    assert not re.search(r"://|--(extra-)?index|--find-links|--trusted|file:|(^|\s)/\w|@ ", text, re.M)


@pytest.mark.parametrize(("small", "large"), list(itertools.pairwise(FILES)))
def test_the_larger_set_holds_the_smaller_to_the_byte(small: str, large: str) -> None:
    """What the library is tested with is what the user installs."""
    strip = re.compile(r"\s+")
    larger = {strip.sub(" ", entry).strip() for entry in entries(large)}
    missing = {strip.sub(" ", entry).strip() for entry in entries(small)} - larger
    assert not missing


def test_the_pins_lie_in_the_ranges_of_the_distribution() -> None:
    """Each dependency that pyproject.toml declares is pinned within its declared range."""
    from packaging.requirements import Requirement

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    pins = dict(entry.split()[0].split("==") for entry in entries("cluster.txt"))
    declared = [
        *project["dependencies"],
        *(one for extra in project["optional-dependencies"].values() for one in extra),
    ]
    for requirement in map(Requirement, declared):
        if requirement.name == project["name"]:
            # One extra that rests on another.
            assert requirement.extras <= project["optional-dependencies"].keys()
            continue
        assert requirement.specifier.contains(pins[requirement.name]), requirement


def test_the_product_carries_no_second_opinion() -> None:
    """Packages that only tests may use are not installed for the user."""
    pins = {entry.split("==")[0] for entry in entries("app.txt")}
    assert not pins & {"pint", "gtc", "pytest", "hypothesis", "jsonschema", "vobject"}


def test_nothing_else_is_installed_than_what_is_pinned() -> None:
    """Each package of this environment is one of the list, in the release that was hashed: none came in beside."""
    pins = dict(entry.split()[0].split("==") for entry in entries("check.txt"))
    own = {"hingeline", "pip", "setuptools", "wheel"}
    there = {canonicalize_name(each.metadata["Name"]): each.version for each in distributions()}
    assert {name: release for name, release in there.items() if name not in own and pins.get(name) != release} == {}
