// The replay's pictures keep one time, so that film and section show the same moment; it can pause and step.
"use strict";
(() => {
  const pictures = [...document.querySelectorAll(".moving-picture svg")];
  const buttons = Object.fromEntries([...document.querySelectorAll("[data-motion]")].map((one) => [one.dataset.motion, one]));
  if (!pictures.length || !buttons.pause) return;
  const STEP = 0.15;
  let running = !matchMedia("(prefers-reduced-motion: reduce)").matches, moment = 0, last = performance.now();
  const put = () => { for (const svg of pictures) { svg.pauseAnimations(); svg.setCurrentTime(moment); } };
  const mark = () => buttons.pause.setAttribute("aria-pressed", String(!running));
  function turn(now) {
    if (running) { moment += Math.min(0.1, (now - last) / 1000); put(); }
    last = now;
    requestAnimationFrame(turn);
  }
  for (const one of Object.values(buttons)) one.hidden = false;
  buttons.pause.addEventListener("click", () => { running = !running; mark(); });
  buttons.step.addEventListener("click", () => { running = false; mark(); moment += STEP; put(); });
  mark(); put(); requestAnimationFrame(turn);
})();
