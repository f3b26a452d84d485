// The stopwatch of a swing: each tap closes one time and opens the next; the times go into the form's own field.
"use strict";
(() => {
  const watch = document.getElementById("watch");
  const field = document.getElementById("id_periods");
  if (!watch || !field) return;
  watch.hidden = false;
  let last = null;
  const times = () => field.value.replace(/[;,](?=\s)/g, " ").split(/\s+/).map((each) => each.replace(/s$/, "").replace(",", "."))
    .filter((each) => each !== "" && Number.isFinite(Number(each))).map(Number);
  function show() {
    const taken = times();
    const mean = taken.reduce((sum, each) => sum + each, 0) / taken.length;
    document.getElementById("watch-count").textContent = String(taken.length);
    document.getElementById("watch-mean").textContent = taken.length ? mean.toFixed(2) : "–";
  }
  function put(taken) {
    field.value = taken.map((each) => each.toFixed(2)).join(" ");
    show();
  }
  // The moment of the tap itself, not of when the page came to it.
  document.getElementById("watch-tap").addEventListener("pointerdown", (event) => {
    if (last !== null) put([...times(), (event.timeStamp - last) / 1000]);
    last = event.timeStamp;
  });
  document.getElementById("watch-tap").addEventListener("keydown", (event) => {
    if (event.repeat || (event.key !== " " && event.key !== "Enter")) return;
    if (last !== null) put([...times(), (event.timeStamp - last) / 1000]);
    last = event.timeStamp;
  });
  document.getElementById("watch-undo").addEventListener("click", () => put(times().slice(0, -1)));
  document.getElementById("watch-stop").addEventListener("click", () => { last = null; });
  field.addEventListener("input", show);
  show();
})();
