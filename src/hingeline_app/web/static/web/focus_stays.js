// Live parts of a page are taken anew after an entry: the keyboard stays where it was.
"use strict";
(() => {
  let last = "";
  addEventListener("focusin", (event) => { last = event.target.id ?? ""; });
  document.addEventListener("entries:fresh", () => {
    if (document.activeElement === document.body && last) document.getElementById(last)?.focus({ preventScroll: true });
  });
})();
