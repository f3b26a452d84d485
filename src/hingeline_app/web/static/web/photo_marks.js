// A place on a photograph: tapped, or moved by arrow keys; it goes into two fields that can be typed as well.
"use strict";
(() => {
  const photo = document.getElementById("photo"), cross = document.getElementById("cross");
  if (!photo || !cross) return;
  const picture = photo.querySelector("img");
  const STEP = 1, FINE = 0.2;
  const field = (name) => document.getElementById(`mark-${name}`);
  const read = (name) => Number((field(name)?.value ?? "").replace(",", "."));
  const within = (value) => Math.min(Math.max(value, 0), 100);

  function draw() {
    const at = [read("x"), read("y")];
    const is = field("x") && at.every((each) => Number.isFinite(each) && each >= 0 && each <= 100);
    cross.classList.toggle("hidden-cross", !is);
    if (!is) return;
    cross.setAttribute("x", `${at[0]}%`);
    cross.setAttribute("y", `${at[1]}%`);
  }
  function put(x, y) {
    if (!field("x")) return;
    field("x").value = within(x).toFixed(1);
    field("y").value = within(y).toFixed(1);
    draw();
  }
  function move(x, y, step) { put((read("x") || 0) + x * step, (read("y") || 0) + y * step); }

  picture.addEventListener("click", (event) => {
    const box = picture.getBoundingClientRect();
    put(100 * (event.clientX - box.left) / box.width, 100 * (event.clientY - box.top) / box.height);
    field("words")?.focus({ preventScroll: true });
  });
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  photo.addEventListener("keydown", (event) => {
    if (event.key === "Enter") field("words")?.focus();
    const way = ARROWS[event.key];
    if (!way) return;
    event.preventDefault();
    move(...way, event.shiftKey ? FINE : STEP);
  });
  document.addEventListener("click", (event) => {
    const way = event.target.closest?.("[data-move]")?.dataset.move;
    if (way) move(...way.split(" ").map(Number), STEP);
  });
  document.addEventListener("input", (event) => { if (event.target.id?.startsWith("mark-")) draw(); });
  function ready() {
    const arrows = document.getElementById("arrows");
    if (arrows) arrows.hidden = false;
    draw();
  }
  // A new mark that waits has its number: the next one is shown the next. Where another tablet took it, the server numbers.
  document.addEventListener("entries:entered", (event) => {
    if (event.target.id !== "new-mark") return;
    const number = event.target.elements.number, title = event.target.closest(".view").querySelector("h2").firstChild;
    const next = String(Number(number.value) + 1);
    title.data = title.data.replace(number.value, next);
    number.value = next;
  });
  document.addEventListener("entries:fresh", ready);
  ready();
})();
