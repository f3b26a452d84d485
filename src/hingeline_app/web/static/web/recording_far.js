// How far long work is: asked each second; when a video is followed, what it shows is read and kept.
"use strict";
(() => {
  const far = document.getElementById("far");
  if (!far) return;
  if (far.dataset.word === "done") { document.querySelector("#keep button")?.click(); return; }
  const words = document.getElementById("far-words");
  const bar = far.querySelector("progress");
  const timer = setInterval(async () => {
    const answer = await fetch(far.dataset.far, { headers: { Accept: "application/json" } }).catch(() => undefined);
    if (!answer) { words.textContent = far.dataset.cut; return; }
    if (!answer.ok || answer.redirected) { clearInterval(timer); location.reload(); return; }
    const said = await answer.json();
    if (said.word === "follows") {
      if ("stopping" in far.dataset) return;
      words.textContent = far.dataset.counted.replace("{done}", said.followed).replace("{all}", said.expected);
      bar.value = said.percent;
    } else if (said.word !== "waits") { clearInterval(timer); location.reload(); }
  }, 1000);
})();
