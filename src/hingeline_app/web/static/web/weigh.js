// A step is a step each time it is pressed: the count makes two presses two entries. The unit that was chosen stays.
"use strict";
(() => {
<<<<<<< HEAD
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
=======
  let pressed = 0;
  // Before the entry is sent: this file comes first.
>>>>>>> d9ee680 (Step by step in Correct; the tablet's own pad and scale line in Weigh; try both in a browser)
  addEventListener("submit", (event) => {
    const count = event.target.elements?.pressed;
    if (count) count.value = String(pressed += 1);
  }, true);
<<<<<<< HEAD

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
=======
  addEventListener("change", (event) => {
    if (event.target.id !== "unit") return;
    for (const each of event.target.options) each.defaultSelected = each.selected;
>>>>>>> d9ee680 (Step by step in Correct; the tablet's own pad and scale line in Weigh; try both in a browser)
  });
})();
