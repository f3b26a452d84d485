// A tap in the picture ticks the surface in the list, and a tick in the list fills it in the picture.
"use strict";
(() => {
  const box = (key) => document.querySelector(`input[name=surfaces][value="${CSS.escape(key)}"]`);
  const places = [...document.querySelectorAll(".plan a[data-place]")];
  const show = () => { for (const place of places) place.classList.toggle("chosen", Boolean(box(place.dataset.place)?.checked)); };
  for (const place of places) {
    place.addEventListener("click", (event) => {
      const tick = box(place.dataset.place);
      if (!tick) return;
      event.preventDefault();
      tick.checked = !tick.checked;
      tick.dispatchEvent(new Event("change", { bubbles: true }));
    });
  }
  addEventListener("change", show);
  addEventListener("pageshow", show);
  show();
})();
