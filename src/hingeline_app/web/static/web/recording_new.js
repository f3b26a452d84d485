// A recording on its way: its digest worked out here before it leaves; a large file goes in pieces, and goes on after a cut.
"use strict";
(() => {
  const form = document.getElementById("the-form");
  const file = form?.querySelector("input[type=file]");
  const box = document.getElementById("sending");
  if (!form || !file || !box) return;
  const words = document.getElementById("sending-words");
  const bar = box.querySelector("progress");
  const token = form.querySelector("input[name=csrfmiddlewaretoken]").value;
  // A digest needs the whole file in memory: a larger one is told apart by its size and its last field only.
  const LARGEST_HASHED = 300e6;
  // How long it is tried again after a cut before the person is asked [s].
  const PATIENCE = 300;
  // What it says stands in the page, in the reader's language.
  const said = box.dataset;
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_all, key) => String(values[key]));

  const hex = (bytes) => [...new Uint8Array(bytes)].map((each) => each.toString(16).padStart(2, "0")).join("");

  async function digest(chosen) {
    if (!globalThis.crypto?.subtle || chosen.size > LARGEST_HASHED) return "";
    return hex(await crypto.subtle.digest("SHA-256", await chosen.arrayBuffer()));
  }

  // The same file chosen again is the same key: by its name, size and age.
  function keyOf(chosen) {
    const named = `${chosen.name}|${chosen.size}|${chosen.lastModified}`;
    return [1, 2, 3, 4].map((seed) => {
      let sum = seed * 0x9e3779b1;
      for (let at = 0; at < named.length; at += 1) sum = Math.imul(sum ^ named.charCodeAt(at), 0x01000193 + 2 * seed);
      return (sum >>> 0).toString(16).padStart(8, "0");
    }).join("");
  }

  function say(text, part) {
    box.hidden = false;
    words.textContent = text;
    if (part !== undefined) bar.value = part;
  }

  const wait = (seconds) => new Promise((done) => { setTimeout(done, 1000 * seconds); });

  async function why(answer) {
    return (await answer.json().catch(() => ({}))).why || filled(said.answers, { status: answer.status });
  }

  // Asks until there is an answer; a cut is waited out.
  async function asked(address, options) {
    const until = Date.now() + 1000 * PATIENCE;
    for (let pause = 1; ; pause = Math.min(30, 2 * pause)) {
      const answer = await fetch(address, { ...options, headers: { "X-CSRFToken": token, ...options.headers } }).catch(() => null);
      if (answer?.redirected) throw new Error(said.out);
      if (answer && answer.status !== 502 && answer.status !== 503) return answer;
      if (Date.now() > until) throw new Error(said.cut);
      say(filled(said.again, { pause }));
      await wait(pause);
    }
  }

  // A piece that was cut off arrived in part, perhaps: where to go on is asked, never guessed.
  async function pieceSent(address, piece, from) {
    const headers = { "X-CSRFToken": token, "Upload-Offset": from, "Content-Type": "application/offset+octet-stream" };
    const answer = await fetch(address, { method: "PATCH", body: piece, headers }).catch(() => null);
    if (answer && !answer.redirected && answer.status !== 502 && answer.status !== 503) return answer;
    return asked(address, { method: "HEAD" });
  }

  async function sendInPieces(chosen) {
    const key = keyOf(chosen), address = form.dataset.arriving.replace(/0$/, key), piece = Number(form.dataset.piece);
    const asks = new URLSearchParams({ name: chosen.name, size: chosen.size });
    let answer = await asked(address, { method: "POST", body: asks });
    for (;;) {
      if (!answer.ok && answer.status !== 409) throw new Error(await why(answer));
      const there = Number(answer.headers.get("Upload-Offset"));
      const part = Math.floor(100 * there / chosen.size);
      say(there === chosen.size ? said.sent : filled(said.part, { part }), part);
      if (there === chosen.size) return key;
      if (answer.status === 409) await wait(0.5);
      const next = chosen.slice(there, there + piece);
      answer = await pieceSent(address, next, there);
    }
  }

  function send(fields) {
    const request = new XMLHttpRequest();
    request.open("POST", location.href);
    request.upload.addEventListener("progress", (event) => {
      if (!event.lengthComputable) return;
      const part = Math.round(100 * event.loaded / event.total);
      say(part < 100 ? filled(said.part, { part }) : said.sent, part);
    });
    request.addEventListener("load", () => {
      if (request.responseURL && request.responseURL !== location.href && request.status < 400) location.assign(request.responseURL);
      else { document.open(); document.write(request.responseText); document.close(); }
    });
    request.addEventListener("error", () => say(fields.get("arrived") ? said.cut : said.lost, 0));
    request.send(fields);
  }

  form.addEventListener("submit", async (event) => {
    const chosen = file.files[0];
    if (!chosen || event.defaultPrevented) return;
    event.preventDefault();
    say(said.digest, 0);
    try {
      form.querySelector("input[name=digest]").value = await digest(chosen);
    } catch {
      say(said.unreadable, 0);
      return;
    }
    const fields = new FormData(form);
    if (chosen.size > Number(form.dataset.piece)) {
      try {
        fields.set("arrived", await sendInPieces(chosen));
      } catch (fault) {
        say(fault.message, 0);
        return;
      }
      fields.delete("file");
    }
    send(fields);
  });
})();
