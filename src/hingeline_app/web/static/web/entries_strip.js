// The strip under the title block: what waits here, why, and what a person has to choose or mend.
const words = document.getElementById("entry-words")?.dataset ?? {};
const strip = document.getElementById("waiting");
const kept = () => document.querySelectorAll("[data-kept]");

export const hour = (time) => new Date(time).toTimeString().slice(0, 5);
const day = (time) => new Date(time).toLocaleDateString("sv-SE");
const since = (time) => (day(time) === day(Date.now()) ? hour(time) : `${day(time)} ${hour(time)}`);
export const say = (name, values = {}) =>
  (words[name] ?? "").replace(/\{(\w+)\}/g, (_all, key) => String(values[key] ?? ""));

export function title(name, time) {
  for (const each of kept()) each.textContent = say(name, { time: hour(time) });
}

function part(tag, text, more = {}) {
  return Object.assign(document.createElement(tag), { textContent: text, ...more });
}

function button(text, act, more = {}) {
  const made = part("button", text, { type: "button", className: "button small", ...more });
  made.addEventListener("click", act);
  return made;
}

// A row that is written whole is shown by its fields that say something.
const rowOf = (row) => Object.entries(row).filter(([, each]) => each !== "" && each !== null && typeof each !== "object").map(([name, each]) => `${name.replaceAll("_", " ")}: ${each}`).join(", ");
const value = (each) => (each === null || each === undefined || each === "" ? say("nothing") : each === true ? say("ticked") : typeof each === "object" ? rowOf(each) : String(each));
const field = (entry, name) => entry.fields.find(([key]) => key === name)?.[1];
const named = (place) => (place.split(".").filter((step) => !/^\d+$/.test(step)).at(-1) ?? place).replaceAll("_", " ");
export const what = (entry) => {
  const typed = field(entry, "typed") ?? field(entry, "value") ?? field(entry, "words");
  const place = field(entry, "place");
  const file = entry.fields.find(([, each]) => each instanceof Blob);
  if (file) return file[1].name ?? say("photo");
  return [place && !field(entry, "typed") && named(place), typed === "on" ? say("ticked") : typed, field(entry, "typed") && field(entry, "unit")]
    .filter(Boolean).join(" ") || (field(entry, "kind") ?? "").replaceAll("-", " ");
};

// What a person typed into a form of several fields is mended field by field, each under its own label.
function mendable(entry) {
  const several = (entry.typed ?? []).filter(([name]) => typeof field(entry, name) === "string");
  const one = ["typed", "value"].find((each) => typeof field(entry, each) === "string" && field(entry, each) !== "on");
  return several.length > 1 ? several.map(([name, ...more]) => asField(entry, name, ...more)) : one ? [asField(entry, one)] : [];
}

// A field of one line drops the breaks of several: two wall readings would be one, and the thinner of them gone.
function asField(entry, name, label, isLong) {
  const was = field(entry, name);
  const input = isLong || was.includes("\n") ? part("textarea", "", { value: was, rows: 3 }) : part("input", "", { value: was, type: "text" });
  if (!label) { input.setAttribute("aria-label", say("mend")); return [name, input, input]; }
  const shown = part("label", label, { className: "mends" });
  shown.append(input);
  return [name, shown, input];
}

function refusedRow(entry, acts) {
  const row = part("div", "", { className: "row refused" });
  row.append(part("strong", say("refused", { what: what(entry), time: hour(entry.at) })));
  for (const fault of entry.faults ?? []) row.append(part("p", fault.says));
  const fields = mendable(entry);
  const turn = part("div", "", { className: "row-of-buttons" });
  if (fields.length) {
    turn.append(...fields.map(([, shown]) => shown), button(say("again"), () => acts.again(entry, Object.fromEntries(fields.map(([name, , input]) => [name, input.value])))));
  } else {
    turn.append(button(say("again"), () => acts.again(entry)));
  }
  turn.append(button(say("away"), () => acts.away(entry), { className: "button small quiet" }));
  row.append(turn);
  return row;
}

function movedRow(entry, acts) {
  const row = part("div", "", { className: "row moved" });
  row.append(part("strong", say("moved", { time: hour(entry.at), what: Object.keys(entry.theirs ?? {}).map(named).join(", ") })));
  const list = part("dl", "", { className: "facts" });
  for (const place of Object.keys(entry.theirs ?? {})) {
    list.append(part("dt", say("yours")), part("dd", value(entry.yours?.[place])));
    list.append(part("dt", say("theirs")), part("dd", value(entry.theirs[place])));
  }
  const turn = part("div", "", { className: "row-of-buttons" });
  if (field(entry, "was") !== undefined) turn.append(button(say("mine"), () => acts.mine(entry)));
  turn.append(button(say("otherHolds"), () => acts.other(entry)));
  row.append(list, turn);
  return row;
}

function listOf(waiting) {
  const list = part("ol", "", { className: "waits" });
  list.append(...waiting.map((entry) => part("li", `${hour(entry.at)}  ${what(entry)}`)));
  const shown = part("details", "");
  shown.append(part("summary", say(waiting.length === 1 ? "showOne" : "show")), list);
  return shown;
}

const counted = (one, many, number, more = {}) => say(number === 1 ? one : many, { n: number, ...more });

// state: {connected, held, busy, late, waiting, refused, moved, others, full, notSigned, twice, way}
function rowsOf(state, acts) {
  const rows = [], number = state.waiting.length;
  const sentence = (text, ...more) => { const row = part("div", "", { className: "row" }); row.append(part("p", text), ...more); rows.push(row); };
  const seen = document.documentElement.dataset.seenOffline;
  if (seen && !state.connected) sentence(say("seen", { time: since(seen) }));
  if (!state.connected) sentence(number ? counted("goneOne", "gone", number) : say("goneNone"), ...(number ? [listOf(state.waiting)] : []));
  else if (state.held && number) {
    const go = part("a", say(state.held === "locked" ? "unlock" : "signIn"), { className: "button small", href: state.way });
    sentence(counted(`${state.held}One`, state.held, number), go, listOf(state.waiting));
  } else if (state.held === "other") sentence(say("otherNone"), part("a", say("anew"), { className: "button small", href: location.pathname + location.search }));
  else if (state.busy && number) sentence(counted("busyOne", "busy", number), listOf(state.waiting));
  else if (state.late && number) sentence(counted("lateOne", "late", number));
  for (const [name, count] of state.others) sentence(counted("othersOne", "others", count, { name }));
  if (state.full) sentence(say(state.full));
  if (state.notSigned) sentence(say("notSigned"));
  if (state.twice) sentence(say("twice", { what: what(state.twice) }), button(say("twiceYes"), acts.twiceYes), button(say("twiceNo"), acts.twiceNo, { className: "button small quiet" }));
  for (const entry of state.moved) rows.push(movedRow(entry, acts));
  for (const entry of state.refused) rows.push(refusedRow(entry, acts));
  return rows;
}

let before = "";
export function show(state, acts) {
  if (!strip) return;
  const rows = rowsOf(state, acts);
  const now = rows.map((row) => row.textContent).join("|");
  if (now === before) return;
  // A person who is mending one keeps the field under the hands until its row is gone.
  before = now;
  strip.replaceChildren(...rows);
  strip.hidden = rows.length === 0;
}

// No statement stands while readings wait: what it said is covered until the server has them, and pictures say of when
// they are.
export function withhold(waits) {
  for (const area of document.querySelectorAll("[data-statement]")) {
    const cover = area.querySelector(":scope > .withheld");
    const whole = area.dataset.statement !== "before";
    if (waits && !cover) {
      if (whole) for (const child of area.children) child.hidden = true;
      else area.classList.add("before-waiting");
      const said = part("p", "", { className: whole ? "withheld" : "withheld before-said" });
      said.append(...(whole ? [part("b", "— "), say("noStatement")] : [say("before")]));
      if (whole) area.append(said);
      else (area.querySelector("h2") ?? area.firstElementChild).after(said);
    } else if (!waits && cover) {
      cover.remove();
      area.classList.remove("before-waiting");
      if (whole) for (const child of area.children) child.hidden = false;
    }
  }
}
