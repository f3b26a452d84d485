// Entries on a job: first on this tablet, then sent to the workshop's server one after the other, each once. They are
// said to be kept only when the server said so; then the live parts of the page (data-live) are taken anew.
import * as store from "./entries_store.js";
import { say, show as showStrip, title, what, withhold } from "./entries_strip.js";

const me = document.body.dataset.person ?? "";
const KEPT_PATIENCE = 15000, PHOTO_PATIENCE = 180000, LATE = 1500, HARMLESS = new Set(["detail", "set-aside", "photo"]);
const LARGEST_PHOTO = 25e6, MOST_TOGETHER = 300e6;
const state = { connected: true, held: "", busy: false, late: false, waiting: [], refused: [], moved: [], others: new Map(), full: "", notSigned: false, twice: null, way: "" };
let token = document.querySelector("input[name=csrfmiddlewaretoken]")?.value ?? "";
let sendingId = null, draining = false, again = false, retry = 0, timer = null, lateTimer = null;
const lastKept = new Map();
const told = "BroadcastChannel" in globalThis ? new BroadcastChannel("hingeline-entries") : null;

const field = (entry, name) => entry.fields.find(([key]) => key === name)?.[1];
const here = (entry) => entry.address === new URL(document.querySelector("[data-entries-of]")?.dataset.entriesOf ?? "/", location.href).pathname;
// Which row an entry changes: a kind's first word ("refit-value" and "refit-seen" write one row, an aim and amounts one
// plan), and what names the row.
const ONE_ROW = { aim: "plan", amounts: "plan" };
const firstWord = (entry) => (field(entry, "kind") ?? "").split("-")[0];
const OF_A_ROW = ["measurement", "place", "point", "check", "name", "index", "about", "photograph", "number"];
const rowOf = (entry) => [entry.address, ONE_ROW[firstWord(entry)] ?? firstWord(entry), ...OF_A_ROW.map((name) => field(entry, name) ?? "")].join("|");

// ------------------------------------------------------------------ what stands on the page

async function look() {
  let entries = [];
  try { entries = await store.all(); } catch { state.full = "noStore"; }
  const mine = entries.filter((each) => me && each.person === me);
  state.waiting = mine.filter((each) => each.state === "waiting");
  state.refused = mine.filter((each) => each.state === "refused");
  state.moved = mine.filter((each) => each.state === "moved");
  state.others = new Map();
  for (const each of entries) if (each.person !== me) state.others.set(each.name, (state.others.get(each.name) ?? 0) + 1);
  return entries;
}

async function show() {
  await look();
  const oldest = state.waiting[0]?.at ?? Infinity;
  state.late = Date.now() - oldest > LATE;
  // What kept a signature back is gone: the sentence would say what holds no more.
  if (state.connected && !state.waiting.length) state.notSigned = false;
  clearTimeout(lateTimer);
  if (state.waiting.length && !state.late) lateTimer = setTimeout(show, LATE + 50);
  showStrip(state, acts);
  withhold(state.waiting.some((each) => here(each) && !HARMLESS.has(field(each, "kind"))) && (state.late || !state.connected));
  const last = state.waiting.filter(here).at(-1);
  // A page that was opened from the tablet's own copy says "kept", as it did when it was copied.
  if (last) title("onTablet", last.at);
  const undo = document.querySelector("form[data-undo] button");
  if (undo) {
    undo.dataset.was ??= undo.textContent;
    undo.textContent = last ? say("undo", { what: what(last) }) : undo.dataset.was;
    undo.disabled = !last && !undo.form.elements.undoes;
  }
  document.dispatchEvent(new CustomEvent("entries:shown", { detail: { waiting: state.waiting.filter(here) } }));
}

// Live parts of the page are taken anew, but not from under somebody's hands.
async function refresh() {
  let answer;
  try { answer = await fetch(location.href, { headers: { "X-Live": "1", "X-Entry-Person": me } }); } catch { return; }
  // Another person is here: what is theirs does not come into this page.
  if (answer.status === 401) { hold("other"); await show(); return; }
  if (!answer.ok || answer.redirected) return;
  // Its own person is here again: what was held goes on.
  if (state.held) { state.held = ""; later(); }
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  token = fresh.querySelector("input[name=csrfmiddlewaretoken]")?.value ?? token;
  for (const part of document.querySelectorAll("[data-live][id]")) {
    const now = fresh.getElementById(part.id);
    if (now && now.innerHTML !== part.innerHTML && !part.contains(document.activeElement?.closest?.("[data-hold]") ?? null)) part.replaceWith(now);
  }
  lastKept.clear();
  document.dispatchEvent(new CustomEvent("entries:fresh"));
  await show();
}

// ------------------------------------------------------------------ sending

async function now() {
  try {
    const answer = await fetch("/tablet/now", { headers: { "X-Entry": "1" }, signal: AbortSignal.timeout(KEPT_PATIENCE) });
    return answer.ok ? await answer.json() : null;
  } catch { return null; }
}

function hold(why) {
  state.held = why;
  const back = encodeURIComponent(`${me}:${location.pathname}${location.search}${location.hash}`);
  state.way = why === "locked" ? `/lock?next=${back}` : `/sign-in?next=${back}`;
  return "stop";
}

async function post(entry) {
  const body = new FormData();
  for (const [name, each] of entry.fields) body.append(name, each);
  body.set("command_key", entry.key);
  const patience = entry.fields.some(([, each]) => each instanceof Blob) ? PHOTO_PATIENCE : KEPT_PATIENCE;
  return fetch(entry.address, {
    method: "POST", body, redirect: "manual", signal: AbortSignal.timeout(patience),
    headers: { "X-Entry": "1", "X-Entry-Person": entry.person, "X-CSRFToken": token },
  });
}

// Send one. Gives "go on" or "stop".
async function send(entry, secondTry = false) {
  let answer, said = null;
  try {
    answer = await post(entry);
    if (answer.headers.get("Content-Type")?.includes("json")) said = await answer.json();
  } catch {
    state.connected = false;
    return "stop";
  }
  state.connected = true;
  if (answer.status === 401) return hold(said?.state ?? "nobody");
  if (answer.type === "opaqueredirect" || (answer.status === 403 && !said)) return secondTry ? refuse(entry, [{ says: say("notTaken") }]) : withFreshToken(entry);
  if ([429, 502, 503, 504, 507].includes(answer.status)) { state.busy = true; return "stop"; }
  state.busy = false;
  if (answer.status >= 500 && (entry.tries = (entry.tries ?? 0) + 1) < 3) { await store.put(entry); state.busy = true; return "stop"; }
  return said ? answered(entry, said) : refuse(entry, [{ says: say("notTaken") }]);
}

async function withFreshToken(entry) {
  const is = await now();
  if (is === null) { state.connected = false; return "stop"; }
  if (is.state !== "here") return hold(is.state);
  if (is.person !== entry.person) return hold("other");
  token = is.token;
  return send(entry, true);
}

async function answered(entry, said) {
  state.held = "";
  if (said.state === "kept") {
    if (field(entry, "was") !== undefined) lastKept.set(rowOf(entry), entry.key);
    if (entry.id) await store.remove(entry.id);
    title("kept", Date.now());
  } else if (said.state === "moved") {
    await store.put({ ...entry, state: "moved", yours: said.yours, theirs: said.theirs });
  } else await refuse(entry, said.faults ?? []);
  // A page that puts a refused entry back into its field, with what was wrong, says so: it need not stand twice.
  const free = document.dispatchEvent(new CustomEvent("entries:answered", { cancelable: true, detail: { said, fields: asForm(entry.fields) } }));
  if (!free && said.state === "refused" && here(entry)) await store.remove(entry.id);
  return "go on";
}

async function refuse(entry, faults) {
  await store.put({ ...entry, state: "refused", faults });
  return "go on";
}

async function sendAll() {
  let sent = 0;
  await look();
  if (!state.connected && !state.waiting.length) return knock();
  for (;;) {
    await look();
    const next = state.waiting[0];
    if (!next) break;
    sendingId = next.id;
    const went = await send(next).finally(() => { sendingId = null; });
    if (went === "stop") { later(); break; }
    sent += 1;
    retry = 0;
  }
  await show();
  told?.postMessage("changed");
  if (sent) await refresh();
}

// Nothing waits: ask only whether the server is there again.
async function knock() {
  state.connected = await now() !== null;
  if (!state.connected) { later(); return show(); }
  return refresh();
}

// One tab at a time sends; what another tab put there goes in its turn.
async function drain() {
  if (!me) { await show(); return; }
  if (draining) { again = true; return; }
  draining = true;
  try {
    do {
      again = false;
      if (navigator.locks) await navigator.locks.request("hingeline-entries", sendAll);
      else await sendAll();
    } while (again);
  } finally { draining = false; }
}

function later() {
  clearTimeout(timer);
  // Held, nothing is sent; where the server was gone meanwhile, it is asked for all the same.
  if (state.held && state.connected) return;
  retry = Math.min(retry + 1, 5);
  timer = setTimeout(drain, 1000 * 2 ** retry);
}

// ------------------------------------------------------------------ entering

const asForm = (fields) => { const form = new FormData(); for (const [name, each] of fields) form.append(name, each); return form; };

function fieldsOf(form) {
  return [...form].filter(([name, each]) => name !== "csrfmiddlewaretoken" && name !== "command_key" && !(each instanceof File && each.size === 0));
}

// What a person typed into, with the words beside it: refused, it is mended there where nothing else shows it any more.
function typedIn(form) {
  return [...form.elements].filter((each) => each.name && each.labels?.length && each.matches("input:not([type=hidden],[type=file],[type=checkbox],[type=radio]), textarea"))
    .map((each) => [each.name, each.labels[0].textContent.trim(), each.matches("textarea")]);
}

// A new mark is numbered where it is kept: it follows on none, and two that waited are two places.
const isNewMark = (entry) => field(entry, "kind") === "photo-mark" && field(entry, "was") === "null";

// A second change of what waits here follows on the first, not on what the page showed before it: it names the first,
// and the server knows what that one wrote.
function followed(entry) {
  if (field(entry, "was") === undefined || isNewMark(entry)) return;
  const row = rowOf(entry);
  const before = state.waiting.filter((each) => field(each, "was") !== undefined && rowOf(each) === row).at(-1);
  const key = before ? before.key : lastKept.get(row);
  if (key !== undefined) entry.fields.push(["follows", key]);
}

async function tooLarge(entry) {
  const files = entry.fields.filter(([, each]) => each instanceof Blob).map(([, each]) => each.size);
  if (!files.length) return false;
  const waiting = state.waiting.flatMap((each) => each.fields).reduce((sum, [, each]) => sum + (each instanceof Blob ? each.size : 0), 0);
  return Math.max(...files) > LARGEST_PHOTO || waiting + files.reduce((sum, size) => sum + size, 0) > MOST_TOGETHER;
}

let storing = Promise.resolve();

// Enter one thing: {kind, …}. Resolves once it is on the tablet (or, where the tablet keeps nothing, was sent).
function enter(address, form, typed = []) {
  const entry = {
    typed,
    key: crypto.randomUUID(), address: new URL(address, location.href).pathname, fields: fieldsOf(form),
    person: me, name: document.body.dataset.personName ?? "", at: Date.now(), state: "waiting",
  };
  storing = storing.then(() => keepHere(entry), () => keepHere(entry));
  return storing;
}

async function keepHere(entry) {
  await look();
  followed(entry);
  try {
    if (await tooLarge(entry)) throw new Error("too large");
    entry.id = await store.add(entry);
    state.full = "";
    title("onTablet", entry.at);
    await show();
    drain();
  } catch {
    if (state.full !== "noStore") state.full = "full";
    await direct(entry);
  }
  return entry;
}

// The tablet keeps nothing: straight to the server, and said where that fails; the form keeps what was typed.
async function direct(entry) {
  const went = await send({ ...entry, id: undefined }).catch(() => "stop");
  if (went === "stop") state.full = "lost";
  showStrip(state, acts);
  if (went === "stop") throw new Error("neither kept here nor sent");
  await refresh();
}

async function anew(entry, changes) {
  const { id, faults, yours, theirs, tries, ...rest } = entry;
  const fields = entry.fields.map(([name, each]) => [name, name in changes ? changes[name] : each]);
  await store.add({ ...rest, fields, key: crypto.randomUUID(), state: "waiting", at: Date.now() });
  await store.remove(id);
  await show();
  drain();
}

// As the page's own forms say it: a tick as "on", a row whole as JSON, anything else as its text.
const asField = (each) => (each === null || each === undefined ? "" : each === true ? "on" : typeof each === "object" ? JSON.stringify(each) : String(each));
const MOST_ASIDE = 1900;
const acts = {
  again: (entry, changes = {}) => anew(entry, changes),
  away: async (entry) => { await store.remove(entry.id); await show(); },
  mine: (entry) => anew(entry, { was: asField(Object.values(entry.theirs)[0]) }),
  other: async (entry) => {
    const [place] = Object.keys(entry.theirs);
    const fields = [["kind", "set-aside"], ["place", place], ["yours", asField(entry.yours[place]).slice(0, MOST_ASIDE)], ["theirs", asField(entry.theirs[place]).slice(0, MOST_ASIDE)]];
    const { id, faults, yours, theirs, tries, ...rest } = entry;
    await store.add({ ...rest, fields, key: crypto.randomUUID(), state: "waiting", at: Date.now() });
    await store.remove(entry.id);
    await show();
    drain();
  },
  twiceYes: () => { const entry = state.twice; state.twice = null; enter(entry.address, asForm(entry.fields)); },
  twiceNo: () => { state.twice = null; show(); },
};

let before = { body: "", at: 0 };
// A wet screen taps twice: the same reading within 0.4 s is asked about, the same choice is one choice.
function tappedTwice(form, fields) {
  const body = JSON.stringify([form.action, ...fieldsOf(fields).map(([name, each]) => [name, each instanceof Blob ? each.size : each])]);
  const since = Date.now() - before.at, same = body === before.body;
  before = { body, at: Date.now() };
  if (fields.get("kind") !== "reading") return same && since < 1000;
  if (!same || since > 400) return false;
  state.twice = { address: form.action, fields: fieldsOf(fields) };
  show();
  return true;
}

async function undoWhatWaits() {
  await look();
  const last = state.waiting.filter(here).at(-1);
  if (!last) return false;
  if (last.id !== sendingId) await store.remove(last.id);
  await show();
  return true;
}

addEventListener("submit", async (event) => {
  const form = event.target;
  if (form.matches("form[data-signature]") && (state.waiting.length || !state.connected)) {
    event.preventDefault();
    event.stopImmediatePropagation();
    state.notSigned = true;
    await show();
    return;
  }
  if (!form.matches("form[data-entry]")) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  const fields = new FormData(form, event.submitter);
  if (form.matches("[data-undo]") && state.waiting.some(here) && await undoWhatWaits()) return;
  if (tappedTwice(form, fields)) return;
  try {
    const held = enter(form.action, fields, typedIn(form));
    form.reset();
    form.dispatchEvent(new CustomEvent("entries:entered", { bubbles: true }));
    // What was held open for these hands is free to show what was entered.
    if (form.contains(document.activeElement) && form.closest("[data-hold]")) document.activeElement.blur();
    await held;
  } catch {
    for (const [name, each] of fields) if (typeof each === "string" && form.elements[name]?.type !== "hidden" && form.elements[name]) form.elements[name].value = each;
  }
}, true);

addEventListener("change", (event) => {
  const form = event.target.closest?.("form[data-autosave]");
  if (!form || (form.reportValidity && !form.reportValidity())) return;
  enter(form.action, new FormData(form)).catch(() => undefined);
});

addEventListener("online", () => { retry = 0; drain(); });
addEventListener("offline", () => { state.connected = false; show(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) drain(); });
addEventListener("pageshow", drain);
told?.addEventListener("message", show);
if (document.documentElement.dataset.seenOffline || navigator.onLine === false) state.connected = false;
navigator.storage?.persist?.();
drain();

globalThis.entries = { enter, refresh, drain };
