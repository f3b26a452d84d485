// Stands between the pages and the network on this tablet. It keeps our own files, and the last seen pages of jobs for
// the person who is signed in, so that they can be read without a connection. It computes, sends and signs nothing.
/* global VERSION, FILES */
const OWN = `hingeline-files-${VERSION}`, PAGES = "hingeline-pages", NOTES = "hingeline-notes";
// What a model is set to stands in its page's address: what is kept of one is never shown for another.
const BY_SEARCH = /^\/why-balance$/;
const READABLE = [/^\/bench$/, /^\/job\/\d+\/[a-z-]+$/, /^\/order\/\d+$/, BY_SEARCH];
const FILE_PATIENCE = 2500, PAGE_PATIENCE = 9000;

addEventListener("install", (event) => {
  event.waitUntil(caches.open(OWN).then((kept) => kept.addAll(FILES.map((each) => new Request(each, { cache: "reload" })))));
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("hingeline-files-") && name !== OWN) await caches.delete(name);
    await clients.claim();
  })());
});

async function note(name, value) {
  const notes = await caches.open(NOTES);
  if (value === undefined) return (await notes.match(`/note/${name}`))?.text();
  return notes.put(`/note/${name}`, new Response(value));
}

// Pages are one person's: another person at this tablet, a sign-out or a switch takes them away.
addEventListener("message", (event) => {
  const { say, person, keeps, dress } = event.data ?? {};
  if (say === "take over") { skipWaiting(); return; }
  if (say !== "here") return;
  event.waitUntil((async () => {
    if (await note("person") !== person || !keeps) await caches.delete(PAGES);
    await note("person", person);
    await note("keeps", keeps ? "yes" : "");
    // The page that stands in speaks as the others do, in their light: it is taken anew when these were changed.
    if (await note("dress") !== dress && await (await caches.open(OWN)).add(new Request("/without-connection", { cache: "reload" })).then(() => true, () => false)) await note("dress", dress);
    // The page that brought the worker here was loaded before it stood between.
    if (keeps && !await (await caches.open(PAGES)).match(event.data.page)) await keep(event.data.page);
  })());
});

const within = (request, patience) => {
  const late = new Promise((_kept, gone) => { setTimeout(gone, patience, new Error("no answer")); });
  return Promise.race([fetch(request), late]);
};

addEventListener("fetch", (event) => {
  const { request } = event, address = new URL(request.url);
  if (address.origin !== location.origin) return;
  if (request.method === "POST") {
    if (["/sign-out", "/switch"].includes(address.pathname)) event.waitUntil(caches.delete(PAGES));
    if (address.pathname === "/lock/now") event.waitUntil(note("locked", "yes"));
    return;
  }
  if (request.method !== "GET") return;
  if (request.mode === "navigate") event.respondWith(page(request, address));
  else if (request.headers.get("X-Live")) event.respondWith(live(request));
  else if (FILES.includes(address.pathname)) event.respondWith(file(request));
});

async function file(request) {
  try {
    const answer = await within(request, FILE_PATIENCE);
    if (answer.ok) return answer;
  } catch { /* no connection: as kept */ }
  return await (await caches.open(OWN)).match(request, { ignoreSearch: true }) ?? Response.error();
}

const readable = (address) => READABLE.some((each) => each.test(new URL(address).pathname));

async function keep(address, answer = null) {
  if (!readable(address) || await note("keeps") !== "yes") return;
  const seen = answer ?? await fetch(address).catch(() => null);
  if (!seen?.ok || seen.redirected) return;
  await (await caches.open(PAGES)).put(address, seen);
}

async function live(request) {
  const answer = await fetch(request);
  if (answer.ok && !answer.redirected) await keep(request.url, answer.clone());
  return answer;
}

async function page(request, address) {
  try {
    const answer = await (readable(request.url) ? within(request, PAGE_PATIENCE) : fetch(request));
    if (answer.ok) {
      if (address.pathname === "/lock") await note("locked", "yes");
      else if (readable(request.url)) await note("locked", "");
      if (address.pathname.startsWith("/sign-in")) await caches.delete(PAGES);
      if (!answer.redirected) await keep(request.url, answer.clone());
    }
    return answer;
  } catch {
    if (address.pathname === "/lock") await note("locked", "yes");
    return await note("locked") === "yes" ? standIn("locked") : await lastSeen(request) ?? standIn("");
  }
}

async function lastSeen(request) {
  const { pathname, search } = new URL(request.url);
  const kept = await (await caches.open(PAGES)).match(request, { ignoreSearch: !(search && BY_SEARCH.test(pathname)) });
  if (!kept) return null;
  const at = new Date(kept.headers.get("Date") ?? Date.now()).toISOString();
  const text = (await kept.text()).replace("<html ", `<html data-seen-offline="${at}" `);
  return new Response(text, { headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": kept.headers.get("Content-Security-Policy") ?? "default-src 'self'" } });
}

// Addresses and titles of the pages that can be read; both come from our own pages, already written for HTML.
async function readableNow() {
  const kept = await caches.open(PAGES), found = [];
  for (const request of await kept.keys()) {
    const title = /<title>([^<]*)<\/title>/.exec(await (await kept.match(request)).text())?.[1] ?? "";
    const { pathname, search } = new URL(request.url);
    found.push([pathname + (BY_SEARCH.test(pathname) ? search.replaceAll("&", "&amp;") : ""), title.replace(" · Hingeline", "")]);
  }
  return found.sort();
}

async function standIn(why) {
  const kept = await (await caches.open(OWN)).match("/without-connection");
  if (!kept) return Response.error();
  const links = why ? "" : (await readableNow()).map(([address, title]) => `<li><a href="${address}">${title}</a></li>`).join("");
  const text = (await kept.text()).replace("<html ", `<html data-without="${why || "page"}" `)
    .replace('<ul class="kept-pages if-page"></ul>', `<ul class="kept-pages if-page">${links}</ul>`);
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'self'" } });
}
