// The device's own motion sensor as a table of numbers: its times, its rate and their scatter stand in the file.
"use strict";
(() => {
  const box = document.getElementById("sensing");
  if (!box) return;
  const words = document.getElementById("sensor-words"), rate = document.getElementById("rate");
  const start = document.getElementById("sense-start"), stop = document.getElementById("sense-stop");
  const trace = document.getElementById("trace"), file = document.querySelector("#the-form input[type=file]");
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_all, key) => String(values[key]));
  const LONGEST = 120, FEWEST = 100;
  let rows = [], listening = false, drawn = 0;

  if (typeof DeviceMotionEvent === "undefined") { words.textContent = box.dataset.none; return; }
  words.textContent = box.dataset.ready;
  start.hidden = false;

  function steps() {
    const found = rows.slice(1).map((row, index) => row[0] - rows[index][0]).sort((one, other) => one - other);
    const middle = found[Math.floor(found.length / 2)] || 0;
    const spread = Math.sqrt(found.reduce((sum, each) => sum + (each - middle) ** 2, 0) / Math.max(found.length, 1));
    return { middle, spread };
  }

  function draw() {
    const context = trace.getContext("2d"), now = rows.at(-1)?.[0] ?? 0;
    const style = getComputedStyle(document.documentElement);
    const shown = rows.filter((row) => now - row[0] < 10);
    const mean = [1, 2, 3].map((axis) => shown.reduce((sum, row) => sum + row[axis], 0) / Math.max(shown.length, 1));
    const size = Math.max(0.5, ...shown.flatMap((row) => [1, 2, 3].map((axis) => Math.abs(row[axis] - mean[axis - 1]))));
    context.clearRect(0, 0, trace.width, trace.height);
    [1, 2, 3].forEach((axis) => {
      context.strokeStyle = style.getPropertyValue(["--line", "--ink", "--ink2"][axis - 1]);
      context.setLineDash([[], [6, 3], [2, 3]][axis - 1]);
      context.beginPath();
      shown.forEach((row, index) => {
        const x = trace.width * (1 - (now - row[0]) / 10), y = trace.height / 2 * (1 - 0.9 * (row[axis] - mean[axis - 1]) / size);
        if (index) context.lineTo(x, y); else context.moveTo(x, y);
      });
      context.stroke();
    });
  }

  function take(event) {
    const felt = event.accelerationIncludingGravity ?? event.acceleration;
    if (!felt || felt.x === null) return;
    const time = event.timeStamp / 1000;
    if (rows.length && time <= rows.at(-1)[0]) return;
    rows.push([time, felt.x, felt.y, felt.z]);
    if (performance.now() - drawn > 100) { drawn = performance.now(); draw(); say(); }
    if (time - rows[0][0] > LONGEST) end();
  }

  function say() {
    const { middle } = steps();
    rate.textContent = middle ? filled(box.dataset.rate, { rate: (1 / middle).toFixed(1), rows: rows.length }) : "";
  }

  async function begin() {
    if (typeof DeviceMotionEvent.requestPermission === "function") {
      const said = await DeviceMotionEvent.requestPermission().catch(() => "denied");
      if (said !== "granted") { words.textContent = box.dataset.refused; return; }
    }
    rows = [];
    listening = true;
    start.hidden = true;
    stop.hidden = false;
    addEventListener("devicemotion", take);
    setTimeout(() => { if (listening && !rows.length) { end(); words.textContent = box.dataset.quiet; } }, 3000);
  }

  function end() {
    listening = false;
    removeEventListener("devicemotion", take);
    start.hidden = false;
    stop.hidden = true;
    if (rows.length < FEWEST) { words.textContent = filled(box.dataset.few, { rows: rows.length, fewest: FEWEST }); return; }
    const { middle, spread } = steps();
    const head = [`# motion sensor of a device, gravity included`, `# rows a second: ${(1 / middle).toFixed(2)}`,
      `# scatter of the steps, standard deviation: ${(1000 * spread).toFixed(3)} ms`,
      "time_s,acceleration_x_m_s2,acceleration_y_m_s2,acceleration_z_m_s2"];
    const lines = rows.map((row) => [(row[0] - rows[0][0]).toFixed(6), ...row.slice(1).map((each) => each.toFixed(6))].join(","));
    const kept = new DataTransfer();
    kept.items.add(new File([[...head, ...lines].join("\n") + "\n"], "sensor.csv", { type: "text/csv" }));
    file.files = kept.files;
    words.textContent = filled(box.dataset.ended, { rows: rows.length, rate: (1 / middle).toFixed(1), scatter: (1000 * spread).toFixed(1) });
    draw();
  }

  start.addEventListener("click", begin);
  stop.addEventListener("click", end);
})();
