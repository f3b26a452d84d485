// Entries on a job: sent one after the other, said to be kept only when the workshop's server said so; then the live
// parts of the page (data-live) are taken anew from its address.
"use strict";
(() => {
  const kept = document.querySelector("[data-kept]");
  const token = () => document.querySelector("input[name=csrfmiddlewaretoken]")?.value ?? "";
  let sending = Promise.resolve();

  async function refresh() {
    const answer = await fetch(location.href, { headers: { "X-Live": "1" } });
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const part of document.querySelectorAll("[data-live][id]")) {
      const now = fresh.getElementById(part.id);
      if (now && now.innerHTML !== part.innerHTML && !part.contains(document.activeElement?.closest?.("[data-hold]") ?? null)) part.replaceWith(now);
    }
    document.dispatchEvent(new CustomEvent("entries:fresh"));
  }

  async function send(address, fields) {
    if (kept) kept.textContent = kept.dataset.sending ?? "…";
    const answer = await fetch(address, { method: "POST", body: fields, headers: { "X-Entry": "1", "X-CSRFToken": token() } });
    const said = await answer.json();
    if (kept && said.state === "kept") kept.textContent = `kept ${new Date().toTimeString().slice(0, 5)}`;
    document.dispatchEvent(new CustomEvent("entries:answered", { detail: { said, fields } }));
    await refresh();
    return said;
  }

  // Enter one thing: {kind, ...}. Resolves with what became of it.
  function enter(address, fields) {
    if (!fields.get("command_key")) fields.set("command_key", crypto.randomUUID());
    sending = sending.then(() => send(address, fields), () => send(address, fields));
    return sending;
  }

  addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("form[data-entry]")) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const fields = new FormData(form, event.submitter);
    fields.set("command_key", crypto.randomUUID());
    enter(form.action, fields);
    form.reset();
  }, true);

  addEventListener("change", (event) => {
    const form = event.target.closest?.("form[data-autosave]");
    if (!form) return;
    const fields = new FormData(form);
    fields.set("command_key", crypto.randomUUID());
    enter(form.action, fields);
  });

  globalThis.entries = { enter, refresh };
})();
