// A step is a step each time it is pressed: the count makes two presses two entries. The unit that was chosen stays, and
// a refused reading goes back into its field.
"use strict";
(() => {
  const typed = document.getElementById("typed");
  const fault = document.getElementById("reading-fault");
  let pressed = 0;

  // Before the entry is sent: this file comes first.
  addEventListener("submit", (event) => {
    const count = event.target.elements?.pressed;
    if (count) count.value = String(pressed += 1);
    if (fault && event.target.id === "reading-form") fault.hidden = true;
  }, true);

  // What mends a missing statement is one tap away: the field itself, in the set-up below.
  addEventListener("click", (event) => {
    const to = event.target.closest?.("a[href^='#set-']")?.hash.slice(1), field = to && document.getElementById(to);
    if (!field) return;
    event.preventDefault();
    field.closest("details").open = true;
    field.focus();
    field.scrollIntoView({ block: "center" });
  });

  addEventListener("change", (event) => {
    if (event.target.id !== "unit") return;
    for (const each of event.target.options) each.defaultSelected = each.selected;
  });

  document.addEventListener("entries:answered", (event) => {
    const { said, fields } = event.detail;
    if (!typed || fields.get?.("kind") !== "reading" || said.state !== "refused") return;
    // It goes back into its field, if that is free; else it stays in the strip.
    if (!typed.value) {
      typed.value = fields.get("typed");
      typed.dispatchEvent(new Event("input", { bubbles: true }));
      event.preventDefault();
    }
    fault.textContent = said.faults.map((each) => each.says).join(" ");
    fault.hidden = false;
  });
})();
