// Why balance: while a knob moves the answer comes at once, its band a little later; the address keeps the state.
"use strict";
(() => {
  const answer = document.getElementById("answer");
  const knobs = document.getElementById("knobs");
  if (!answer || !knobs) return;

  // ---- the moving section: we turn the pages of its animation, so that it can pause, slow down and step
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let running = !still.matches, rate = 1, moment = 0, last = performance.now();
  const pictures = () => answer.querySelectorAll(".moving-picture svg");
  const put = () => { for (const svg of pictures()) { svg.pauseAnimations(); svg.setCurrentTime(moment); } };
  function turn(now) {
    if (running) { moment += rate * Math.min(0.1, (now - last) / 1000); put(); }
    last = now;
    requestAnimationFrame(turn);
  }
  const buttons = Object.fromEntries([...document.querySelectorAll("[data-motion]")].map((one) => [one.dataset.motion, one]));
  const pause = buttons.pause;
  for (const one of Object.values(buttons)) one.hidden = false;
  const mark = () => pause.setAttribute("aria-pressed", String(!running));
  pause.addEventListener("click", () => { running = !running; mark(); });
  buttons.slower.addEventListener("click", () => { rate = rate > 0.2 ? rate / 2 : 1; });
  buttons.step.addEventListener("click", () => { running = false; mark(); moment += 0.1; put(); });
  mark(); put(); requestAnimationFrame(turn);

  // ---- the knobs
  const query = () => {
    const fields = new URLSearchParams();
    for (const [name, value] of new FormData(knobs)) fields.append(name, String(value));
    return fields.toString();
  };
  // What stands there is struck through as soon as it is not of the knobs any more, and not taken from them at once:
  // most answers come before an eye could tell.
  const late = document.getElementById("late");
  function old(words) { answer.classList.toggle("old", Boolean(words)); late.textContent = words; repeat(); }
  // The finding stands above the knobs' own screen: once a knob was moved it stands beside them too, with its "not proof".
  // Hidden from what reads aloud: the finding itself is read when it changes.
  const echo = document.getElementById("echo");
  let moved = false;
  function repeat() {
    const finding = answer.querySelector(".finding");
    echo.hidden = !moved || !finding;
    if (echo.hidden) return;
    echo.className = finding.classList.contains("growth") ? "echo growth" : "echo";
    echo.classList.toggle("old", answer.classList.contains("old"));
    echo.innerHTML = finding.innerHTML;
  }
  let asked = 0, wait = 0, busy = false, again = false, unanswered = false;
  async function fetchInto(address, number) {
    const reply = await fetch(`${address}?${query()}`, { headers: { "X-Requested-With": "fetch" } }).catch(() => null);
    if (!reply?.ok || number !== asked) return false;
    unanswered = false;
    old("");
    const open = answer.querySelector(".as-table")?.open;
    answer.innerHTML = await reply.text();
    if (open) answer.querySelector(".as-table").open = true;
    put(); repeat();
    return true;
  }
  async function work() {
    moved = true; repeat();
    if (busy) { again = true; return; }
    busy = true;
    const number = ++asked;
    history.replaceState(null, "", `?${query()}`);
    for (const link of document.querySelectorAll("[data-state]")) link.search = `?${query()}`;
    clearTimeout(wait);
    wait = setTimeout(() => old(late.dataset.slow), 400);
    unanswered = !await fetchInto(answer.dataset.answer, number);
    clearTimeout(wait);
    busy = false;
    tellWhatIsAway();
    if (again) { again = false; work(); return; }
    if (unanswered) { old(late.dataset.none); return; }
    wait = setTimeout(() => fetchInto(answer.dataset.band, number), 250);
  }
  function say(input) {
    const output = knobs.querySelector(`output[for="${input.id}"]`);
    const top = output.dataset.top && Number(input.value) >= Number(input.max);
    output.textContent = top ? output.dataset.top : `${Number(input.value)} ${output.dataset.unit}`.trim();
  }
  knobs.addEventListener("input", (event) => { if (event.target.type === "range") { say(event.target); work(); } });
  knobs.addEventListener("click", (event) => {
    const step = event.target.closest("[data-step]");
    if (!step) return;
    event.preventDefault();
    const input = step.parentElement.querySelector("input");
    if (Number(step.dataset.step) > 0) input.stepUp(); else input.stepDown();
    say(input); work();
  });
  addEventListener("online", () => { if (unanswered) work(); tellWhatIsAway(); });
  addEventListener("offline", () => tellWhatIsAway());
  wait = setTimeout(() => { asked += 1; fetchInto(answer.dataset.band, asked).then(keepPresets); }, 150);

  // ---- without a connection: the numbered states are on an enrolled tablet, and what is not there says so before a tap
  const keeps = document.body.dataset.keeps === "yes" && "caches" in globalThis;
  const kept = async (link) => (keeps ? (await caches.open("hingeline-pages")).match(link.href) : undefined);
  const states = () => document.querySelectorAll("main a[href^='?']:not([data-step])");
  async function keepPresets() {
    if (!keeps || !navigator.serviceWorker?.controller) return;
    for (const link of document.querySelectorAll(".presets a")) {
      const text = await (await kept(link))?.text();
      // What a tap brought is kept without its band: without a connection none would come after.
      const same = text?.includes(`<html lang="${document.documentElement.lang}"`) && text.includes("data-banded");
      if (!same && !await fetch(link.href, { headers: { "X-Live": "1" } }).catch(() => null)) return;
    }
  }
  async function tellWhatIsAway() {
    const apart = unanswered || !navigator.onLine, away = [];
    for (const link of states()) {
      const gone = apart && !await kept(link);
      if (gone) link.setAttribute("aria-disabled", "true"); else link.removeAttribute("aria-disabled");
      if (gone) away.push(link);
    }
    document.getElementById("away").hidden = away.length === 0;
  }
  addEventListener("click", (event) => {
    if (event.target.closest?.("main a[aria-disabled=true]")) event.preventDefault();
  });
  tellWhatIsAway();

  // ---- damping, worked out only when somebody looks
  const damping = document.getElementById("damping");
  damping?.addEventListener("toggle", async () => {
    if (!damping.open) return;
    const reply = await fetch(`${damping.dataset.address}?${query()}`).catch(() => null);
    if (reply?.ok) damping.querySelector("div").innerHTML = await reply.text();
    else damping.querySelector("div").textContent = damping.dataset.none;
  });
})();
