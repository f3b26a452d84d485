// A recording on its way: its digest worked out here before it leaves, how far it is, and what went wrong, in words.
"use strict";
(() => {
  const form = document.getElementById("the-form");
  const file = form?.querySelector("input[type=file]");
  const box = document.getElementById("sending");
  if (!form || !file || !box) return;
  const words = document.getElementById("sending-words");
  const bar = box.querySelector("progress");
  // A digest needs the whole file in memory: a larger one is told apart by its size and its last field only.
  const LARGEST_HASHED = 300e6;

  async function digest(chosen) {
    if (!globalThis.crypto?.subtle || chosen.size > LARGEST_HASHED) return "";
    const found = new Uint8Array(await crypto.subtle.digest("SHA-256", await chosen.arrayBuffer()));
    return [...found].map((each) => each.toString(16).padStart(2, "0")).join("");
  }

  function say(text, part) {
    box.hidden = false;
    words.textContent = text;
    if (part !== undefined) bar.value = part;
  }

  function send() {
    const asked = new XMLHttpRequest();
    asked.open("POST", location.href);
    asked.upload.addEventListener("progress", (event) => {
      if (!event.lengthComputable) return;
      const part = Math.round(100 * event.loaded / event.total);
      say(part < 100 ? `${part} % sent` : "Sent. The server looks at it.", part);
    });
    asked.addEventListener("load", () => {
      if (asked.responseURL && asked.responseURL !== location.href && asked.status < 400) location.assign(asked.responseURL);
      else { document.open(); document.write(asked.responseText); document.close(); }
    });
    asked.addEventListener("error", () => say("The connection was cut: nothing was kept. Send it again.", 0));
    asked.send(new FormData(form));
  }

  form.addEventListener("submit", async (event) => {
    const chosen = file.files[0];
    if (!chosen || event.defaultPrevented) return;
    event.preventDefault();
    say("Working out the file's digest.", 0);
    try {
      form.querySelector("input[name=digest]").value = await digest(chosen);
    } catch {
      say("The file cannot be read on this device: nothing was sent.", 0);
      return;
    }
    send();
  });
})();
