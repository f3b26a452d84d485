"""What was typed waits where the server takes no draft of it; a passkey asks by its person's newest token."""

from __future__ import annotations

from hingeline_app.web.drafts import SECRETS
from tests.hingeline_app.web.scripts_of_pages import told_by

OF_MARA = f"""
Object.assign(body.dataset, {{ person: "mara", draft: "/draft", idle: "300", lock: "/lock" }});
body.dataset.secrets = {"|".join(SECRETS)!r};
form.fields = [["name", "arm check"], ["pin", "730418"]];
"""
LOCKS = """
run(script);
await happens("form", "input");
around.Date = class extends Date { static now() { return Date.now() + 301000; } };
for (const turn of turns) await turn();
await settled();
"""


def test_what_was_typed_last_is_left_with_the_server_when_the_page_locks() -> None:
    told = told_by("page.js", f"{OF_MARA}{LOCKS} return {{ sent, kept: [...kept], went }};")
    assert told["sent"][0] == ["/draft", "name=arm+check&draft_page=%2Ffleet%2Ftask%2Fadd"]
    assert told["kept"] == []
    assert told["went"] == ["/lock?next=mara%3A%2Ffleet%2Ftask%2Fadd"]


def test_where_another_has_come_in_it_waits_on_the_tablet_without_its_secrets() -> None:
    """It was lost: the server refused the draft, as another person's, and the page was left."""
    other = "answers = () => ({ status: 401 });"
    told = told_by("page.js", f"{OF_MARA}{other}{LOCKS} return [...kept];")
    assert told == [["draft|mara|/fleet/task/add", "name=arm+check&draft_page=%2Ffleet%2Ftask%2Fadd"]]


def test_a_page_that_was_locked_elsewhere_keeps_it_too() -> None:
    """The answer is the page of the lock, 200, and no draft of this page was kept."""
    locked = "answers = () => ({ status: 200, redirected: true });"
    assert len(told_by("page.js", f"{OF_MARA}{locked}{LOCKS} return [...kept];")) == 1


def test_its_person_who_comes_back_finds_it_as_a_draft_and_nobody_else_does() -> None:
    waits = 'kept.set("draft|mara|/fleet/task/add", "name=arm+check&draft_page=x");'
    back = told_by(
        "page.js", f"{OF_MARA}{waits} run(script); await settled(); return {{ sent, kept: [...kept], went }};"
    )
    assert back == {"sent": [["/draft", "name=arm+check&draft_page=x"]], "kept": [], "went": ["/fleet/task/add"]}
    other = told_by(
        "page.js", f'{OF_MARA} body.dataset.person = "jon"; {waits} run(script); await settled(); return sent;'
    )
    assert other == []


def test_what_was_sent_is_no_draft_any_more() -> None:
    waits = 'answers = () => ({ status: 401 }); kept.set("draft|mara|/fleet/task/add", "name=arm+check");'
    told = told_by("page.js", f"{OF_MARA}{waits} run(script); await happens('form', 'submit'); return [...kept];")
    assert told == []


ON_THE_COVER = """
const token = { value: "of before" }, words = { hidden: true };
form.elements = { csrfmiddlewaretoken: token, proof_assertion: {} };
const button = { form, addEventListener: on("button"),
  dataset: { passkey: "prove", options: "/prove/passkey", words: "w", refused: "no" } };
around.document.querySelectorAll = (what) => (what.startsWith("button") ? [button] : [token]);
around.document.getElementById = () => words;
around.PublicKeyCredential = class {}; around.atob = atob; around.Uint8Array = Uint8Array;
around.navigator = { credentials: { get: async () => { throw new Error("the device is not asked here"); } } };
body.dataset.person = "mara";
answers = (address, { body: fields }) => {
  if (address === "/tablet/now") return { json: async () => ({ person: WHO, token: "of now" }) };
  const ok = String(fields).includes("of+now");
  return { status: ok ? 200 : 403, ok, json: async () => ({ challenge: "" }) };
};
run(script);
await happens("button", "click", { preventDefault() {} });
await settled();
return sent.map(([address]) => address);
"""


def test_a_passkey_asks_by_the_token_of_the_visit_that_its_person_began_meanwhile() -> None:
    """The first press was refused, since the page had the token of before; another person's token is not taken."""
    told = told_by("passkey.js", 'const WHO = "mara";' + ON_THE_COVER)
    assert told == ["/prove/passkey", "/tablet/now", "/prove/passkey"]
    assert told_by("passkey.js", 'const WHO = "jon";' + ON_THE_COVER) == ["/prove/passkey", "/tablet/now"]
