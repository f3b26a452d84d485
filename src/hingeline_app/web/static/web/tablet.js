// This tablet: the worker that answers without a connection, the numbers' pad, keys, what was typed and not entered.
import "./keys.js";
import "./number_pad.js";
import "./scale_line.js";

const body = document.body, told = document.getElementById("tablet-words")?.dataset ?? {};

// ------------------------------------------------------------------ the worker
async function begin() {
  const worker = await navigator.serviceWorker.register("/worker.js", { scope: "/", updateViaCache: "none" });
  const here = () => (navigator.serviceWorker.controller ?? worker.active)?.postMessage({
    say: "here", person: body.dataset.person ?? "", keeps: body.dataset.keeps === "yes", page: location.href,
    dress: `${document.documentElement.lang} ${document.documentElement.dataset.light ?? ""}` });
  if (body.dataset.person) navigator.serviceWorker.ready.then(here);
  const offer = (waiting) => {
    if (!waiting || !navigator.serviceWorker.controller) return;
    const strip = document.getElementById("newer");
    if (!strip) return;
    strip.hidden = false;
    strip.querySelector("button").onclick = () => waiting.postMessage({ say: "take over" });
  };
  offer(worker.waiting);
  worker.addEventListener("updatefound", () => {
    const coming = worker.installing;
    coming?.addEventListener("statechange", () => { if (coming.state === "installed") offer(worker.waiting); });
  });
  // The page is loaded anew once, by the hand that asked for the new version.
  let had = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => { if (had) location.reload(); had = true; });
}
if ("serviceWorker" in navigator) begin().catch(() => undefined);

// ------------------------------------------------------------------ typed and not entered yet: it is there again
const secret = (name) => new RegExp(`${body.dataset.secrets}|was`, "i").test(name);
const place = (form, field) => `typed|${body.dataset.person}|${location.pathname}|${form.id || form.elements.kind?.value}|${form.elements.place?.value ?? ""}|${field.name}`;
const fields = (form) => [...form.elements].filter((each) => each.name && !secret(each.name) && /^(text|search|number|textarea|tel)$/.test(each.type));
if (body.dataset.person) {
  for (const form of document.querySelectorAll("form[data-entry]:not([data-undo])")) {
    for (const each of fields(form)) {
      const was = sessionStorage.getItem(place(form, each));
      if (was !== null && !each.value) each.value = was;
    }
  }
  const forget = (event) => { for (const each of fields(event.target)) sessionStorage.removeItem(place(event.target, each)); };
  addEventListener("input", ({ target }) => {
    const form = target.form;
    if (!form?.matches("[data-entry]:not([data-undo])") || !fields(form).includes(target)) return;
    try { sessionStorage.setItem(place(form, target), target.value); } catch { /* no room: it is only typed */ }
  });
  addEventListener("entries:entered", forget);
}
