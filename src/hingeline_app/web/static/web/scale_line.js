// A scale that prints a number a line, read over a serial line where the browser can. A number goes into the field once
// it is steady (three lines alike, or one line and then silence); adding it is left to a person.
const told = document.getElementById("tablet-words")?.dataset ?? {};
const ALIKE = 3, SILENCE = 700;
const NUMBER = /([+\-−]?)\s*(\d+(?:[.,]\d+)?)\s*(kgf?|g|lbf?|oz|N|daN)?(?![A-Za-z])/;
const UNSTEADY = /\bU[SN]\b|UNST|MOV|DYN|\bOL\b|\bERR|[?~]/i;
const state = { alike: 0, last: "", filled: "", blocked: "", timer: null, port: null };

const say = (name, line = "") => {
  for (const each of document.querySelectorAll("[data-scale-says]")) each.textContent = (told[name] ?? "").replace("{line}", line.trim());
};

export function readLine(line) {
  const found = NUMBER.exec(line);
  if (!found) return null;
  const [, sign, digits, unit] = found;
  return { number: (sign === "-" || sign === "−" ? "−" : "") + digits, unit: unit ?? "", steady: !UNSTEADY.test(line) };
}

function fill(read) {
  const holder = document.querySelector("[data-scale-line][data-for]");
  const field = holder && document.getElementById(holder.dataset.for);
  const key = read.number + read.unit;
  if (!field || key === state.blocked) return;
  state.blocked = "";
  // What a person typed is left alone.
  if (field.value !== "" && field.value !== state.filled) return;
  const choice = document.getElementById(holder.dataset.unit);
  if (read.unit && choice?.options && ![...choice.options].some((each) => each.value === read.unit)) return;
  if (read.unit && choice?.options && choice.value !== read.unit) {
    choice.value = read.unit;
    choice.dispatchEvent(new Event("change", { bubbles: true }));
  }
  state.filled = choice || !read.unit ? read.number : `${read.number} ${read.unit}`;
  field.value = state.filled;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function take(line) {
  clearTimeout(state.timer);
  if (!line.trim()) return;
  const read = readLine(line);
  if (!read) { state.alike = 0; say("scaleStrange", line); return; }
  if (!read.steady) { state.alike = 0; state.blocked = ""; say("scaleMoving", line); return; }
  const key = read.number + read.unit;
  state.alike = key === state.last ? state.alike + 1 : 1;
  if (key !== state.last && state.blocked && key !== state.blocked) state.blocked = "";
  state.last = key;
  say("scaleReads", line);
  if (state.alike >= ALIKE) fill(read);
  else state.timer = setTimeout(fill, SILENCE, read);
}

async function listen(port) {
  state.port = port;
  await port.open({ baudRate: Number(document.body.dataset.baud || 9600) });
  say("scaleWaits");
  const text = new TextDecoder();
  const reader = port.readable.getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) break;
    const lines = (rest + text.decode(value, { stream: true })).split(/[\r\n]+/);
    rest = lines.pop();
    lines.forEach(take);
  }
}

// The same weight is taken once: lift it off and set it down for the next reading.
addEventListener("entries:entered", () => { state.blocked = state.last; state.filled = ""; state.alike = 0; clearTimeout(state.timer); });

function begin(port) {
  const gone = () => {
    state.port = null;
    say("scaleGone");
    for (const each of document.querySelectorAll("[data-scale-open]")) each.hidden = false;
  };
  for (const each of document.querySelectorAll("[data-scale-line]")) each.hidden = false;
  for (const each of document.querySelectorAll("[data-for] [data-scale-open]")) each.hidden = true;
  listen(port).then(gone, gone);
}

// The line is chosen once (Workshop, This tablet); where it is known, a page that takes readings opens it by itself.
if (navigator.serial) {
  for (const each of document.querySelectorAll("[data-scale-line]:not([data-for])")) each.hidden = false;
  addEventListener("click", async (event) => {
    if (!event.target.closest?.("[data-scale-open]") || state.port) return;
    const [known] = document.querySelector("[data-scale-line][data-for]") ? await navigator.serial.getPorts() : [];
    const port = known ?? await navigator.serial.requestPort().catch(() => null);
    if (port) begin(port);
  });
  navigator.serial.getPorts().then(([known]) => {
    if (known && document.querySelector("[data-scale-line][data-for]") && !state.port) begin(known);
  });
} else say("scaleNone");
