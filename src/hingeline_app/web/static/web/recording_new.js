// A recording on its way: its digest worked out here before it leaves; a large file goes in pieces, and goes on after a cut.
"use strict";
(() => {
  const form = document.getElementById("the-form");
  const file = form?.querySelector("input[type=file]");
  const box = document.getElementById("sending");
  if (!form || !file || !box) return;
  const words = document.getElementById("sending-words");
  const bar = box.querySelector("progress");
  const stop = box.querySelector("button");
  const begin = document.querySelector("button[form=the-form]");
  const me = document.body.dataset.person;
  let token = form.querySelector("input[name=csrfmiddlewaretoken]").value;
  // What goes from this page goes as its person: the server takes none of it where another person has come in.
  const mine = (more = {}) => ({ "X-CSRFToken": token, "X-Entry-Person": me, ...more });
  // A digest needs the whole file in memory: a larger one is told apart by its size and its last field only.
  const LARGEST_HASHED = 300e6;
  // How long it is tried again after a cut before the person is asked [s].
  const PATIENCE = 300;
  // What it says stands in the page, in the reader's language.
  const said = box.dataset;
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_all, key) => String(values[key]));
  // One sending at a time; Stop ends it wherever it is.
  let sending = null;
  const inPieces = () => file.files[0]?.size > Number(form.dataset.piece);
  const stopped = () => new Error(inPieces() ? said.stopped : said.stoppedSmall);

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

  const megabytes = (bytes) => (bytes / 1e6).toFixed(1);

  // What has left this device, and of how much; at its end there is nothing to stop any more.
  function sayPart(there, size) {
    const part = Math.min(100, Math.floor(100 * there / size));
    stop.hidden = part === 100;
    say(part < 100 ? filled(said.part, { part, there: megabytes(there), size: megabytes(size) }) : said.sent, part);
  }

  const wait = (seconds) => new Promise((done) => {
    setTimeout(done, 1000 * seconds);
    sending.signal.addEventListener("abort", done, { once: true });
  });

  function goesOn() {
    if (sending.signal.aborted) throw stopped();
  }

  async function why(answer) {
    return (await answer.json().catch(() => ({}))).why || filled(said.answers, { status: answer.status });
  }

  // A page that locks itself while it sends is covered where it stands: the sending waits for the PIN, and goes on.
  const dialog = document.getElementById("locked");
  let unlocked = null, unlock = null, onItsWay = null;
  dialog?.addEventListener("cancel", (event) => event.preventDefault());
  const isLock = (address) => Boolean(address) && new URL(address).pathname === dialog?.dataset.lock;
  const isSignIn = (address) => Boolean(address) && new URL(address).pathname.startsWith("/sign-in");
  const opened = (answer) => Boolean(answer?.ok && answer.redirected && !isLock(answer.url) && !isSignIn(answer.url));
  // Why it stays covered: no connection, a wrong proof, a wait after too many of them, or a session that is over.
  function whyNot(answer) {
    if (!answer) return dialog.dataset.none;
    if (isSignIn(answer.url)) return said.out;
    if (answer.status === 422) return dialog.dataset.wrong;
    if (answer.status !== 429) return filled(said.answers, { status: answer.status });
    const seconds = Number(answer.headers.get("Retry-After"));
    const at = new Date(Date.now() + 1000 * seconds).toLocaleTimeString(document.documentElement.lang, { hour: "2-digit", minute: "2-digit" });
    return filled(dialog.dataset.waits, { minutes: Math.ceil(seconds / 60), at });
  }
  // Who is here by now, another tab may have changed it; its own person who signed in anew goes on by the new token.
  async function whoIsHere() {
    const is = await fetch("/tablet/now").then((answer) => answer.json()).catch(() => null);
    if (is?.person !== me) return is;
    token = is.token;
    for (const each of document.querySelectorAll("input[name=csrfmiddlewaretoken]")) each.value = token;
    return is;
  }
  const isAnothers = (is) => Boolean(is?.person) && is.person !== me;
  function anothers() {
    document.getElementById("locked-other").hidden = false;
    return dialog.dataset.other;
  }
  // Nothing of this page is taken: covered, where it is another who is here; else sent once more with the new token.
  async function turnedAway() {
    if (isAnothers(await whoIsHere())) {
      cover();
      document.getElementById("locked-fault").textContent = anothers();
    }
  }
  function cover() {
    unlocked ??= new Promise((done) => { unlock = done; });
    document.getElementById("locked-far").textContent = words.textContent;
    if (!dialog.open) dialog.showModal();
  }
  document.addEventListener("page:locked", (event) => {
    if (!sending || !dialog) return;
    event.preventDefault();
    cover();
  });
  dialog?.querySelector("form").addEventListener("submit", async (event) => {
    event.preventDefault();
    event.stopImmediatePropagation();
    const proof = document.getElementById("locked-proof"), fault = document.getElementById("locked-fault");
    const assertion = event.target.elements.proof_assertion, by = assertion.value ? assertion : proof;
    const body = new URLSearchParams({ [by.name]: by.value, next: dialog.dataset.then });
    proof.value = assertion.value = "";
    // What is still on its way names the visit of before: answered after the unlocking, it would sign its person out.
    onItsWay?.abort();
    const told = (words) => { fault.hidden = false; fault.textContent = words; proof.focus(); };
    document.getElementById("locked-other").hidden = true;
    // It opens to the person whose page it is: another's PIN does not go to the server from here.
    if (isAnothers(await whoIsHere())) { told(anothers()); return; }
    const headers = mine();
    // Where there was no connection to lock the server by, it is locked now: else whatever is typed would open it.
    const locked = await fetch("/lock/now", { method: "POST", headers }).catch(() => null);
    const answer = locked?.ok ? await fetch(dialog.dataset.lock, { method: "POST", body, headers }).catch(() => null) : locked;
    if (!opened(answer)) { told(answer?.status === 401 ? anothers() : whyNot(answer)); return; }
    fault.textContent = "";
    dialog.close();
    document.dispatchEvent(new CustomEvent("page:unlocked"));
    unlock();
    unlocked = null;
  });

  const isTurnedAway = (answer) => answer?.status === 401 || answer?.status === 403;

  // Asks until there is an answer; a cut is waited out, and so is a lock.
  async function asked(address, options) {
    let until = Date.now() + 1000 * PATIENCE;
    for (let pause = 1, turned = 0; ; pause = Math.min(30, 2 * pause)) {
      if (unlocked) { await unlocked; goesOn(); until = Date.now() + 1000 * PATIENCE; }
      const headers = mine(options.headers);
      const answer = await fetch(address, { ...options, headers, signal: sending.signal }).catch(() => null);
      goesOn();
      // Locked by another tab, or answered before this page heard of its own lock.
      if (answer?.redirected && isLock(answer.url)) cover();
      if (isTurnedAway(answer) && turned < 2) { turned = unlocked ? 0 : turned + 1; await turnedAway(); continue; }
      if (answer?.redirected && unlocked) continue;
      if (answer?.redirected) throw new Error(said.out);
      if (answer && answer.status !== 502 && answer.status !== 503) return answer;
      if (Date.now() > until) throw new Error(said.cut);
      say(filled(said.again, { pause }));
      await wait(pause);
      goesOn();
    }
  }

  // One request that tells how much of it has left; none where it was cut or stopped.
  async function sent(method, address, body, headers, far) {
    if (unlocked) await unlocked;
    goesOn();
    return new Promise((done) => {
      const request = new XMLHttpRequest();
      onItsWay = request;
      request.open(method, address);
      for (const [name, value] of Object.entries(mine(headers))) request.setRequestHeader(name, value);
      request.upload.addEventListener("progress", (event) => { if (event.lengthComputable) far(event.loaded, event.total); });
      for (const end of ["load", "error", "abort"]) request.addEventListener(end, () => done(request.status ? request : null));
      sending.signal.addEventListener("abort", () => request.abort(), { once: true });
      request.send(body);
    });
  }

  // A piece that was cut off arrived in part, perhaps: where to go on is asked, never guessed.
  async function pieceSent(address, chosen, from) {
    const piece = chosen.slice(from, from + Number(form.dataset.piece));
    const headers = { "Upload-Offset": from, "Content-Type": "application/offset+octet-stream" };
    const request = await sent("PATCH", address, piece, headers, (loaded) => {
      // All of it is there when the server says so.
      sayPart(Math.min(from + loaded, 0.99 * chosen.size), chosen.size);
    });
    goesOn();
    const here = request && new URL(request.responseURL, location.href).pathname === new URL(address, location.href).pathname;
    if (!here || isTurnedAway(request) || request.status === 502 || request.status === 503) return asked(address, { method: "HEAD" });
    const there = request.getResponseHeader("Upload-Offset") ?? "";
    return new Response(request.responseText, { status: request.status, headers: { "Upload-Offset": there } });
  }

  async function sendInPieces(chosen) {
    const key = keyOf(chosen), address = form.dataset.arriving.replace(/0$/, key);
    const asks = new URLSearchParams({ name: chosen.name, size: chosen.size });
    let answer = await asked(address, { method: "POST", body: asks });
    for (;;) {
      if (!answer.ok && answer.status !== 409) throw new Error(await why(answer));
      const there = Number(answer.headers.get("Upload-Offset"));
      sayPart(there, chosen.size);
      if (there === chosen.size) return key;
      if (answer.status === 409) await wait(0.5);
      goesOn();
      answer = await pieceSent(address, chosen, there);
    }
  }

  async function sendForm(fields) {
    const far = fields.get("arrived") ? () => {} : sayPart;
    const posted = async () => { if (unlocked) await unlocked; fields.set("csrfmiddlewaretoken", token); return sent("POST", location.href, fields, {}, far); };
    let request = await posted();
    // Locked before it was all there, or another person came in: the same once more, which is kept once.
    if (isLock(request?.responseURL)) cover();
    const turned = isTurnedAway(request);
    if (turned) await turnedAway();
    if (turned || (unlocked && (!request || isLock(request.responseURL)))) request = await posted();
    goesOn();
    // Still another's: what was typed stays in this page.
    if (request?.status === 401) throw new Error(dialog.dataset.other);
    if (!request) throw new Error(fields.get("arrived") ? said.cut : said.lost);
    if (request.responseURL && request.responseURL !== location.href && request.status < 400) location.assign(request.responseURL);
    else { document.open(); document.write(request.responseText); document.close(); }
  }

  async function send(chosen) {
    const read = await digest(chosen).catch(() => null);
    if (read === null) throw new Error(said.unreadable);
    goesOn();
    form.querySelector("input[name=digest]").value = read;
    const fields = new FormData(form);
    if (inPieces()) {
      fields.set("arrived", await sendInPieces(chosen));
      fields.delete("file");
    }
    await sendForm(fields);
  }

  form.addEventListener("submit", async (event) => {
    const chosen = file.files[0];
    if (sending) { event.preventDefault(); return; }
    if (!chosen || event.defaultPrevented) return;
    event.preventDefault();
    sending = new AbortController();
    begin.disabled = true;
    stop.hidden = false;
    say(said.digest, 0);
    try {
      await send(chosen);
    } catch (fault) {
      // What has arrived in pieces stays, and so does the bar that shows it.
      say(fault.message, inPieces() ? undefined : 0);
      stop.hidden = true;
      begin.disabled = false;
      sending = null;
    }
  });

  stop.addEventListener("click", () => sending?.abort());
})();
