// Keys that do something by themselves, where nobody is typing; they can be switched off (Workshop, This tablet).
const told = document.getElementById("tablet-words")?.dataset ?? {};
const ROOMS = { b: "bench", h: "hangar", l: "limits", r: "recordings", w: "why-balance", e: "records" };
let afterG = 0;

const typing = (target) => target.closest?.("input:not([type=checkbox]):not([type=radio]):not([type=button]), textarea, select, [contenteditable]");
const go = (link) => { if (link) location.assign(link.href); return Boolean(link); };
const step = (rel) => go(document.querySelector(`a[rel=${rel}]`));
const room = (name) => go(document.querySelector(`.rail a[data-room="${name}"]`));

function search() {
  const field = document.querySelector("[data-search], input[type=search]");
  if (field) field.focus();
  else room("records");
  return true;
}

function undo() {
  const form = document.querySelector("form[data-undo]");
  if (form && !form.querySelector("button").disabled) form.requestSubmit();
  return Boolean(form);
}

function shown() {
  let page = document.getElementById("keys");
  if (!page) {
    page = Object.assign(document.createElement("dialog"), { id: "keys", className: "view" });
    const head = Object.assign(document.createElement("h2"), { textContent: told.keysTitle, id: "keys-title" });
    const list = Object.assign(document.createElement("dl"), { className: "facts" });
    for (const row of (told.rows ?? "").split("|")) {
      const [key, words] = row.split(/=(.*)/s);
      list.append(Object.assign(document.createElement("dt"), { textContent: key }), Object.assign(document.createElement("dd"), { textContent: words }));
    }
    const close = Object.assign(document.createElement("button"), { type: "button", className: "button small", textContent: told.close });
    close.addEventListener("click", () => page.close());
    page.setAttribute("aria-labelledby", "keys-title");
    page.append(head, list, close);
    document.body.append(page);
  }
  page.showModal();
  return true;
}

const KEYS = { "/": search, "?": shown, "[": () => step("prev"), "]": () => step("next"), u: undo };

addEventListener("keydown", (event) => {
  if (document.body.dataset.keys === "off" || event.metaKey || (event.ctrlKey && !event.altKey) || typing(event.target)) return;
  if (document.querySelector("dialog[open]")) return;
  const isSecond = Date.now() - afterG < 1500;
  afterG = event.key === "g" ? Date.now() : 0;
  const done = isSecond && ROOMS[event.key] ? room(ROOMS[event.key]) : KEYS[event.key]?.();
  if (done) event.preventDefault();
});
