// Marks on the first picture: a number is chosen, the picture is tapped; a cross, a loupe above the finger, arrows.
"use strict";
(() => {
  const placing = document.getElementById("placing");
  if (!placing) return;
  const picture = placing.querySelector("img");
  const layer = placing.querySelector("svg");
  const loupe = placing.querySelector("canvas");
  const steer = document.getElementById("steer");
  const words = document.getElementById("steer-words");
  const finer = document.getElementById("finer");
  const width = Number(placing.dataset.width), height = Number(placing.dataset.height);
  const picks = [...steer.querySelectorAll("[data-pick]")];
  const rows = [...document.querySelectorAll(".mark-row")];
  const SVG = "http://www.w3.org/2000/svg";
  let chosen = 0;

  const field = (index, name) => rows[index].querySelector(`[name=${name}_${index + 1}]`);
  const place = (index) => {
    const x = field(index, "x").value, y = field(index, "y").value;
    return x !== "" && y !== "" ? [Number(x.replace(",", ".")), Number(y.replace(",", "."))] : null;
  };
  const used = (index) => field(index, "kind").value !== "";

  function put(index, x, y) {
    field(index, "x").value = Math.min(Math.max(x, 0), width - 1).toFixed(2);
    field(index, "y").value = Math.min(Math.max(y, 0), height - 1).toFixed(2);
    if (!used(index)) {
      field(index, "kind").value = "dot";
      field(index, "on").value = index < 2 ? "section" : "background";
    }
    show();
  }

  function cross(index, x, y) {
    const group = document.createElementNS(SVG, "g");
    if (index === chosen) group.setAttribute("class", "chosen");
    const unit = width / Math.max(placing.clientWidth, 1), size = (index === chosen ? 22 : 14) * unit;
    for (const kind of ["halo", "ring"]) {
      const path = document.createElementNS(SVG, "path");
      const half = 0.62 * size;
      path.setAttribute("class", kind);
      path.setAttribute("d", `M${x - size} ${y}H${x + size}M${x} ${y - size}V${y + size}M${x - half} ${y}a${half} ${half} 0 1 0 ${2 * half} 0a${half} ${half} 0 1 0 ${-2 * half} 0`);
      group.append(path);
    }
    const number = document.createElementNS(SVG, "text");
    number.setAttribute("x", x + 0.8 * size);
    number.setAttribute("y", y - 0.6 * size);
    number.setAttribute("font-size", 18 * unit);
    number.textContent = index + 1;
    group.append(number);
    layer.append(group);
  }

  function show() {
    layer.replaceChildren();
    let free = true;
    rows.forEach((row, index) => {
      const at = place(index);
      if (at && used(index)) cross(index, ...at);
      row.classList.toggle("chosen", index === chosen);
      // One empty row more than are used is offered, no more.
      row.classList.toggle("unused", !used(index) && !free && index !== chosen);
      if (!used(index)) free = false;
      const kind = field(index, "kind").value;
      row.querySelector(".its-number").hidden = kind !== "marker";
      for (const spot of row.querySelectorAll(".spot")) spot.hidden = kind === "marker";
      picks[index].setAttribute("aria-pressed", index === chosen);
      picks[index].hidden = row.classList.contains("unused");
    });
    const at = place(chosen);
    words.textContent = (at ? words.dataset.placed : words.dataset.open).replace("{number}", chosen + 1)
      .replace("{across}", at?.[0].toFixed(1)).replace("{down}", at?.[1].toFixed(1));
  }

  function look(x, y, shown) {
    const context = loupe.getContext("2d"), zoom = 6, half = loupe.width / 2;
    const scale = picture.naturalWidth / width;
    loupe.hidden = !shown;
    if (!shown) return;
    context.imageSmoothingEnabled = false;
    context.clearRect(0, 0, loupe.width, loupe.height);
    context.drawImage(picture, (x - half / zoom) * scale, (y - half / zoom) * scale, loupe.width / zoom * scale,
      loupe.height / zoom * scale, 0, 0, loupe.width, loupe.height);
    const style = getComputedStyle(document.documentElement);
    for (const [colour, line] of [[style.getPropertyValue("--sheet"), 5], [style.getPropertyValue("--out"), 2]]) {
      context.strokeStyle = colour; context.lineWidth = line; context.beginPath();
      context.moveTo(half, 0); context.lineTo(half, loupe.height);
      context.moveTo(0, half); context.lineTo(loupe.width, half); context.stroke();
    }
    const unit = placing.clientWidth / width, left = x * unit - half;
    const above = y * unit - loupe.height - 56;
    loupe.style.left = `${Math.min(Math.max(left, 0), placing.clientWidth - loupe.width)}px`;
    loupe.style.top = `${above > 0 ? above : y * unit + 56}px`;
  }

  function at(event) {
    const box = placing.getBoundingClientRect();
    return [(event.clientX - box.left) * width / box.width - 0.5, (event.clientY - box.top) * height / box.height - 0.5];
  }

  let held = false;
  placing.addEventListener("pointerdown", (event) => {
    held = true;
    placing.setPointerCapture(event.pointerId);
    put(chosen, ...at(event));
    look(...at(event), true);
  });
  placing.addEventListener("pointermove", (event) => {
    if (!held) return;
    put(chosen, ...at(event));
    look(...at(event), true);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    placing.addEventListener(end, () => { held = false; look(0, 0, false); show(); });
  }

  function move(across, down) {
    const now = place(chosen) ?? [width / 2, height / 2];
    const step = finer.getAttribute("aria-pressed") === "true" ? 0.25 : 1;
    put(chosen, now[0] + step * across, now[1] + step * down);
    const moved = place(chosen);
    look(...moved, true);
    clearTimeout(move.timer);
    move.timer = setTimeout(() => look(0, 0, false), 1500);
  }

  const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  placing.addEventListener("keydown", (event) => {
    if (!KEYS[event.key]) return;
    event.preventDefault();
    const far = event.shiftKey ? 10 : 1;
    move(KEYS[event.key][0] * far, KEYS[event.key][1] * far);
  });
  for (const button of steer.querySelectorAll("[data-move]")) {
    button.addEventListener("click", () => move(...button.dataset.move.split(" ").map(Number)));
  }
  finer.addEventListener("click", () => finer.setAttribute("aria-pressed", finer.getAttribute("aria-pressed") !== "true"));
  picks.forEach((pick, index) => pick.addEventListener("click", () => { chosen = index; show(); placing.focus({ preventScroll: true }); }));
  rows.forEach((row, index) => {
    row.addEventListener("change", show);
    row.addEventListener("focusin", () => { if (chosen !== index) { chosen = index; show(); } });
  });
  steer.hidden = false;
  addEventListener("resize", show);
  const first = rows.findIndex((_row, index) => !used(index));
  chosen = first < 0 ? 0 : first;
  show();
})();
