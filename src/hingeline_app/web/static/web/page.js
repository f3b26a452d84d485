// What every page does by itself: lock when idle, keep a draft of what was typed, a pad for PINs.
"use strict";
(() => {
  const body = document.body;
  const token = () => document.querySelector("input[name=csrfmiddlewaretoken]")?.value ?? "";
  // As its person only: where another has come in by another tab, the server takes nothing of this page.
  const mine = () => ({ "X-CSRFToken": token(), "X-Entry-Person": body.dataset.person });
  const secret = (name) => new RegExp(body.dataset.secrets, "i").test(name);

  function draftOf(form) {
    const fields = new URLSearchParams();
    for (const [name, value] of new FormData(form)) {
      if (typeof value === "string" && value !== "" && !secret(name)) fields.append(name, value);
    }
    fields.append("draft_page", location.pathname);
    return fields;
  }

  const left = (draft) => fetch(body.dataset.draft, { method: "POST", body: draft, headers: mine(), keepalive: true })
    .then((answer) => answer.status === 204, () => false);

  // Where the server takes no draft of this page, since another person has come in or it is locked already, what was
  // typed waits on this tablet until its own person opens the page here again.
  const waits = `draft|${body.dataset.person}|${location.pathname}`;
  async function leaveDraft(form) {
    const draft = draftOf(form);
    if (await left(draft)) { sessionStorage.removeItem(waits); return; }
    try { sessionStorage.setItem(waits, draft.toString()); } catch { /* no room: it is only typed */ }
  }

  // The server then shows it as what it is: entries from before, which are not kept yet.
  async function takeUp() {
    const draft = sessionStorage.getItem(waits);
    if (!draft || document.getElementById("faults") || !await left(new URLSearchParams(draft))) return;
    sessionStorage.removeItem(waits);
    location.replace(location.pathname + location.search);
  }

  const kept = document.querySelector("form[data-drafted]");
  let touched = false;
  if (kept && body.dataset.draft) {
    kept.addEventListener("input", () => { touched = true; });
    kept.addEventListener("change", () => leaveDraft(kept));
    kept.addEventListener("submit", () => sessionStorage.removeItem(waits));
    takeUp();
  }

  if (body.dataset.idle) {
    let last = Date.now();
    const seen = () => { if (last !== Infinity) last = Date.now(); };
    document.addEventListener("page:unlocked", () => { last = Date.now(); });
    // A page that was left by its lock and is brought back by the browser itself counts anew.
    addEventListener("pageshow", ({ persisted }) => { if (persisted) last = Date.now(); });
    for (const kind of ["pointerdown", "keydown", "touchstart"]) addEventListener(kind, seen, { passive: true });
    setInterval(async () => {
      if (Date.now() - last < 1000 * Number(body.dataset.idle)) return;
      last = Infinity;
      if (kept && touched) await leaveDraft(kept);
      await fetch("/lock/now", { method: "POST", headers: mine() }).catch(() => undefined);
      // A page that must not be left, since something is on its way from it, asks for the PIN where it stands.
      if (!document.dispatchEvent(new CustomEvent("page:locked", { cancelable: true }))) return;
      // What stands in the address was typed by the person of this page: nobody else goes back to it.
      location.assign(`${body.dataset.lock}?next=${encodeURIComponent(`${body.dataset.person}:${location.pathname}${location.search}${location.hash}`)}`);
    }, 1000);
  }

  // A button pressed by key that leads back to its own page keeps the keyboard: the page anew begins at its top.
  const PRESSED = "pressed by key";
  addEventListener("submit", ({ target, submitter }) => {
    if (!submitter?.matches(":focus-visible")) return;
    const told = { page: location.pathname, to: target.action, words: submitter.textContent.trim() };
    try { sessionStorage.setItem(PRESSED, JSON.stringify(told)); } catch { /* no room: the page begins at its top */ }
  });
  const pressed = JSON.parse(sessionStorage.getItem(PRESSED) ?? "null");
  sessionStorage.removeItem(PRESSED);
  if (pressed?.page === location.pathname && document.activeElement === body) {
    const again = [...document.querySelectorAll("form button")].find(
      (each) => each.form.action === pressed.to && each.textContent.trim() === pressed.words,
    );
    again?.focus({ preventScroll: true });
  }

  // Until a hand chooses, the system's wish holds: the next light is the one after it.
  for (const now of document.querySelectorAll("input[name=light_now]")) {
    if (!now.value) now.value = matchMedia("(prefers-color-scheme: dark)").matches ? "night" : "day";
  }

  // A new workshop begins with the zone of the device in hand, where that is one of the list.
  for (const zones of document.querySelectorAll("#set-up select[data-own-zone]")) {
    const own = Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (zones.value === "UTC" && [...zones.options].some((each) => each.value === own)) zones.value = own;
  }

  // The strip of tabs is longer than a phone is wide: the tab that one is on is in sight.
  // Again with the page's own type: on a slow network its letters come later, and move the tab.
  function showTheTab() {
    for (const tab of document.querySelectorAll(".tabs [aria-current]")) {
      const strip = tab.parentElement, at = tab.getBoundingClientRect(), all = strip.getBoundingClientRect();
      strip.scrollLeft += at.left + at.width / 2 - all.left - all.width / 2;
    }
  }
  showTheTab();
  document.fonts?.ready.then(showTheTab);

  for (const pad of document.querySelectorAll("[data-pad]")) {
    const entry = document.getElementById(pad.dataset.pad);
    pad.hidden = false;
    pad.addEventListener("click", (event) => {
      const key = event.target.closest("button[data-key]");
      if (!key || !entry) return;
      if (key.dataset.key === "back") entry.value = entry.value.slice(0, -1);
      else if (entry.value.length < entry.maxLength) entry.value += key.dataset.key;
    });
  }

  // What was refused keeps its mark while it stands as it was sent; once it is filled or changed, the sentence alone stays.
  const said = (field) => [...field.querySelectorAll("input:not([type=hidden]), select, textarea")]
    .map((each) => (each.matches("[type=checkbox], [type=radio]") ? String(each.checked) : each.value)).join("\n");
  for (const field of document.querySelectorAll(".field.wrong")) {
    const sent = said(field);
    const judge = () => field.classList.toggle("wrong", said(field) === sent);
    for (const kind of ["input", "change"]) field.addEventListener(kind, judge);
  }

  // One press, one save: the second press of a button in a hurry does nothing.
  addEventListener("submit", (event) => {
    const form = event.target;
    if (form.dataset.sent) { event.preventDefault(); return; }
    form.dataset.sent = "yes";
    setTimeout(() => { delete form.dataset.sent; }, 4000);
  });
  document.getElementById("faults")?.querySelector("a")?.focus();
})();
