"""A tablet at the invented workshop's bench, on the weighing under way: what waits there, and when all is kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.bench import Bench, bench_in, enter, sign_in, until

PATIENT = 20000
FORM = """([address, measurement]) => {
  const form = document.createElement('form');
  form.method = 'post'; form.action = address; form.dataset.entry = ''; form.id = 'reading-form';
  form.innerHTML = `<input type="hidden" name="kind" value="reading">
    <input type="hidden" name="measurement" value="${measurement}">
    <label for="typed">Reading</label><input id="typed" name="typed" required data-number><button>Add reading</button>`;
  document.querySelector('main').prepend(form); }"""


@pytest.fixture(scope="module")
def bench(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    with bench_in(tmp_path_factory.mktemp("bench"), browser) as found:
        yield found


@pytest.fixture(scope="module")
def open_bench(bench: Bench) -> Iterator[Bench]:
    with bench.serving():
        yield bench


@pytest.fixture
def tablet(open_bench: Bench) -> Iterator[Page]:
    """Jon at the bench's tablet, on the weighing that is under way."""
    context = open_bench.context(has_touch=True)
    page = context.new_page()
    sign_in(page)
    page.goto(f"/job/{open_bench.weighing[0]}/weigh")
    yield page
    context.close()


def strip(page: Page) -> Any:
    return expect(page.locator("#waiting"), "the strip")


def reading(page: Page, bench: Bench, typed: str) -> None:
    number, measurement = bench.weighing
    enter(page, number, kind="reading", measurement=measurement, place="support 1", typed=typed)


def all_kept(page: Page) -> None:
    until(page, "async () => (await (await import('/static/web/entries_store.js')).all()).length === 0")
    expect(page.locator("#waiting")).to_be_hidden(timeout=PATIENT)
