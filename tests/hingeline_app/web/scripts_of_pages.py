"""A script of the pages, run alone by the Node.js that the browser of the tests brings along: no page, no browser."""

from __future__ import annotations

import json
import subprocess
from typing import Any

from playwright._impl._driver import compute_driver_executable

from hingeline_app.web.offline import STATIC

# What a script finds around it: a page's body, a form, a place to keep texts, a server that answers as it is told.
AROUND = """
const vm = require("vm"), fs = require("fs"), listeners = {}, sent = [], went = [], kept = new Map();
const on = (of) => (kind, act) => { (listeners[`${of} ${kind}`] ??= []).push(act); };
const happens = async (of, kind, more = {}) => { for (const act of listeners[`${of} ${kind}`] ?? []) await act(more); };
const turns = [];
let answers = () => ({ status: 204 });
const form = { addEventListener: on("form"), matches: () => false, elements: {}, fields: [] };
const body = { dataset: {} };
const around = {
  document: { body, documentElement: { dataset: {}, lang: "en" }, activeElement: null, addEventListener: on("document"),
    dispatchEvent: () => true, getElementById: () => null, querySelectorAll: () => [],
    querySelector: (what) => (what.startsWith("form") ? form : null) },
  addEventListener: on("window"), setInterval: (act) => turns.push(act), setTimeout, URLSearchParams, Intl, Date, Map,
  FormData: class { [Symbol.iterator]() { return form.fields[Symbol.iterator](); } },
  sessionStorage: { getItem: (name) => kept.get(name) ?? null, removeItem: (name) => kept.delete(name),
    setItem: (name, text) => kept.set(name, text) },
  location: { pathname: "/fleet/task/add", search: "", hash: "", assign: (to) => went.push(to),
    replace: (to) => went.push(to) },
  fetch: async (address, options = {}) => {
    sent.push([address, String(options.body ?? "")]);
    return answers(address, options);
  },
  encodeURIComponent, JSON, RegExp, Promise, Number, String, CustomEvent: class {},
};
around.globalThis = around.window = around;
const run = (name) => vm.runInNewContext(fs.readFileSync(name, "utf-8"), around);
const settled = () => new Promise((done) => setTimeout(done, 5));
"""


def told_by(script: str, scenario: str) -> Any:
    """Give what a scenario tells of a script of ours: its last line is what it tells, as data."""
    path = json.dumps(str(STATIC / "web" / script))
    tells = "then((told) => console.log(JSON.stringify(told)));"
    program = f"{AROUND}\n(async () => {{ const script = {path};\n{scenario}\n}})().{tells}"
    done = subprocess.run(
        [compute_driver_executable()[0], "-e", program], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
