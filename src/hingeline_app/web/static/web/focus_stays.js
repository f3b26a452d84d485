// Live parts of a page are taken anew after an entry: the keyboard stays where it was. Where that control is gone it
// stays at its part, and not at a neighbour, which a second press of the key would set off.
"use strict";
(() => {
  const CAN = "a[href], button, input:not([type=hidden]), select, textarea, summary";
  const named = (each) => `${each.tagName} ${each.name ?? ""} ${each.textContent.trim()}`;
  const alikeIn = (part, name) => [...part.querySelectorAll(CAN)].filter((each) => named(each) === name);
  let last = null;

  addEventListener("focusin", ({ target }) => {
    const part = target.closest("[data-live][id]"), alike = part ? alikeIn(part, named(target)) : [];
    last = { target, id: target.id, part: part?.id, name: named(target), place: alike.indexOf(target), many: alike.length };
  });
  // A hand that went elsewhere is not called back.
  addEventListener("pointerdown", ({ target }) => { if (!target.closest?.(`${CAN}, label`)) last = null; });

  function where() {
    const own = last.id && document.getElementById(last.id), part = last.part && document.getElementById(last.part);
    // What is held for these hands and still stands was let go of, so that it can be taken anew.
    if (last.target.isConnected && last.part && last.target.closest("[data-hold]")) return null;
    if (last.target.isConnected && !last.target.disabled) return last.target;
    if (own && !own.disabled) return own;
    if (!part) return null;
    const alike = alikeIn(part, last.name);
    if (last.place >= 0 && alike.length === last.many && !alike[last.place].disabled) return alike[last.place];
    part.tabIndex = -1;
    return part;
  }
  document.addEventListener("entries:fresh", () => {
    if (last && document.activeElement === document.body) where()?.focus({ preventScroll: true });
  });
})();
