// Readings by touch and by keys: the pad's own keys, a refused reading kept as typed, the same one twice asked about;
// and the place of the focus kept when a live part of the page is taken anew.
"use strict";
(() => {
  const form = document.getElementById("reading-form");
  const typed = document.getElementById("typed");
  const unit = document.getElementById("unit");
  const fault = document.getElementById("reading-fault");
  const twice = document.getElementById("twice");
  const TOO_SOON = 400;
  let last = { text: "", at: -Infinity };
  let sure = false;

  const keepUnit = () => { for (const each of unit.options) each.defaultSelected = each.selected; };
  unit?.addEventListener("change", keepUnit);

  // Before the entry is sent (this file is loaded first): a wet screen taps twice.
  addEventListener("submit", (event) => {
    if (!form || event.target !== form) return;
    const text = `${typed.value.trim()} ${unit.value}`;
    const soon = text === last.text && performance.now() - last.at < TOO_SOON;
    if (soon && !sure) {
      event.preventDefault();
      event.stopImmediatePropagation();
      twice.hidden = false;
      twice.querySelector("button").focus();
      return;
    }
    sure = false;
    fault.hidden = true;
    twice.hidden = true;
    last = { text, at: performance.now() };
  }, true);

  twice?.addEventListener("click", (event) => {
    const answer = event.target.dataset.twice;
    if (!answer) return;
    twice.hidden = true;
    if (answer === "leave") { typed.value = ""; typed.focus(); return; }
    sure = true;
    form.requestSubmit();
  });

  document.addEventListener("entries:answered", (event) => {
    const { said, fields } = event.detail;
    if (!form || fields.get?.("kind") !== "reading" || said.state !== "refused") return;
    // It goes back into its field, if that is free; else it stays in the strip.
    if (!typed.value) {
      typed.value = fields.get("typed");
      typed.dispatchEvent(new Event("input", { bubbles: true }));
      event.preventDefault();
    }
    fault.textContent = said.faults.map((each) => each.says).join(" ");
    fault.hidden = false;
    last = { text: "", at: -Infinity };
  });

  // A part that is taken anew loses the focus that stood in it.
  let stood = "";
  addEventListener("focusin", (event) => { stood = event.target.id || stood; });
  document.addEventListener("entries:fresh", () => {
    if (document.activeElement === document.body && stood) document.getElementById(stood)?.focus({ preventScroll: true });
  });
})();
