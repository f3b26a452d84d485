// The pad for numbers: it types into the field it belongs to, or into the number field that was touched last. Where a
// screen is touched the system's keyboard stays away, so that it does not cover the picture.
const own = document.body.dataset.pad !== "keyboard";
const touched = matchMedia("(any-pointer: coarse)").matches;
let last = null;

const decimal = () => (document.body.dataset.decimal === "comma" ? "," : ".");
const fieldOf = (pad) => (pad.dataset.for ? document.getElementById(pad.dataset.for) : last ?? document.querySelector("[data-number]"));

function put(field, start, end, text) {
  field.setRangeText(text, start, end, "end");
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function type(field, key) {
  const start = field.selectionStart ?? field.value.length, end = field.selectionEnd ?? field.value.length;
  if (key === "back") put(field, start === end ? Math.max(0, start - 1) : start, end, "");
  else if (key === "decimal") { if (!/[.,]/.test(field.value.slice(0, start) + field.value.slice(end))) put(field, start, end, decimal()); }
  else if (field.value.replace(/\D/g, "").length < 18) put(field, start, end, key);
}

function nextUnit(pad) {
  const choice = document.getElementById(pad.dataset.unit);
  if (!choice?.options?.length) return;
  choice.selectedIndex = (choice.selectedIndex + 1) % choice.options.length;
  choice.dispatchEvent(new Event("change", { bubbles: true }));
}

function ready() {
  for (const pad of document.querySelectorAll("[data-number-pad]")) {
    pad.hidden = !own;
    for (const key of pad.querySelectorAll("[data-key=decimal]")) key.textContent = decimal();
    const field = pad.dataset.for && document.getElementById(pad.dataset.for);
    if (field && own && touched) field.inputMode = "none";
  }
  if (own && touched && document.querySelector("[data-number-pad]")) {
    for (const field of document.querySelectorAll("[data-number]")) field.inputMode = "none";
  }
}

addEventListener("focusin", (event) => { if (event.target.matches?.("[data-number]")) last = event.target; });
// A key leaves the field its place: the next digit goes where the last one went.
addEventListener("pointerdown", (event) => { if (event.target.closest?.("[data-number-pad] [data-key]")) event.preventDefault(); });
addEventListener("click", (event) => {
  const key = event.target.closest?.("[data-number-pad] [data-key]");
  if (!key) return;
  const pad = key.closest("[data-number-pad]"), field = fieldOf(pad);
  if (key.dataset.key === "unit") nextUnit(pad);
  else if (field) type(field, key.dataset.key);
});
// What is typed on a keyboard while nothing has the focus goes where the pad's would: a number from its sign or its
// decimal mark on, else -5 would stand there as 5 and .84 as 84.
addEventListener("keydown", (event) => {
  if (event.target !== document.body || event.ctrlKey || event.altKey || event.metaKey) return;
  const pad = document.querySelector("[data-number-pad][data-for], .pad[data-pad]");
  if (!pad || !(pad.dataset.for ? /^[-+.,0-9]$/ : /^[0-9]$/).test(event.key)) return;
  document.getElementById(pad.dataset.for ?? pad.dataset.pad)?.focus();
});
document.addEventListener("entries:fresh", ready);
ready();
