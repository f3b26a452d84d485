// Hours: a pad of our own, and what an entry would mean while it is typed.
"use strict";
(() => {
  const form = document.querySelector("form[data-line]");
  if (!form) return;
  const line = document.getElementById("plausible");
  let field = document.getElementById("id_shown");
  let waiting = 0;

  async function tell() {
    const asked = new URLSearchParams(new FormData(form));
    asked.delete("csrfmiddlewaretoken");
    const answer = await fetch(`${form.dataset.line}?${asked}`).catch(() => undefined);
    if (!answer || !answer.ok) return;
    const told = await answer.json();
    line.textContent = told.line;
    line.classList.toggle("asks", told.asks);
  }

  function soon() {
    clearTimeout(waiting);
    waiting = setTimeout(tell, 350);
  }

  form.addEventListener("input", soon);
  form.addEventListener("focusin", (event) => {
    if (event.target.matches("#id_shown, #id_landings")) field = event.target;
  });
  const pad = form.querySelector("[data-count-pad]");
  pad.hidden = false;
  pad.addEventListener("click", (event) => {
    const key = event.target.closest("button[data-key]");
    if (!key) return;
    if (key.dataset.key === "back") field.value = field.value.slice(0, -1);
    else if (field.value.length < field.maxLength) field.value += key.dataset.key;
    soon();
  });
})();
