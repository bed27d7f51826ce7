// The offline worker. builder/offline.py writes VERSION and FILES, [address, digest, bytes] each in the order in which they
// are saved, above this line, and offline-shared.js below it.
//
// It stores one whole edition of the site and answers only from it. A newer edition is fetched beside it, with unchanged
// files copied, and waits until the reader activates it or no page of the older one is open. An open page keeps the
// edition that it started with: the notes record which page has which.
//
// Files that the device has cleared are fetched again if the server still has them. If the server has another edition by
// then, that one is fetched whole and takes over.
//
// To pages: {type: "saving", share, done, total}, {type: "ready"}, {type: "off", done, total},
// {type: "failed", why: "full" | "network" | "stopped"}; each with `offline`, the stored edition. The answer to "look"
// has `edition`, that of the asking page.
// From pages: {type: "fill"}, to start or repair; {type: "stop"}; {type: "look", mends, sparing}, to ask for the state
// and, if `mends`, for a repair; {type: "take newest"}, to fetch the server's edition and activate it; {type: "take over"};
// {type: "rest"}, to pause saving, and {type: "go on"}. `sparing`: the device asks to save data.

const ROOT = new URL("./", self.location);
const PREFIX = `offline ${ROOT.pathname} `;
const CACHE = PREFIX + VERSION;
const NOTES = `notes ${ROOT.pathname}`;
// Names the server's current edition, so it is never stored.
const EDITION = new URL("edition.json", ROOT);
const DIGEST = "Site-Digest";
/** In the notes, the edition of a page that the server must answer, since the stored edition is incomplete. */
const OF_SERVER = "server";
const AT_ONCE = 4;
const TELL_EVERY_MS = 100;
// A pause ends by itself, since the page that asked for it may be gone.
const LONGEST_REST_MS = 60_000;
const REST_STEP_MS = 100;
// A browser does not list a page as open before its answer has come.
const OPENS_WITHIN_MS = 3_000;
let restsUntil = 0;
let stopping = new AbortController();
let mending = null;
let takingOver = null;

let files = null;
/** The files by path, so that queries and fragments make no difference. Not listed at the start, for which every page waits. */
const byPath = () => (files ??= new Map(FILES.map((file) => [new URL(file[0], ROOT).pathname, file])));
const TOTAL = FILES.reduce((sum, [, , bytes]) => sum + bytes, 0);

self.addEventListener("install", (event) => event.waitUntil(install()));

self.addEventListener("activate", (event) => event.waitUntil(takeOver()));

self.addEventListener("message", (event) => {
  const { type, mends, sparing } = event.data ?? {};
  if (type === "fill") event.waitUntil(mend());
  if (type === "look") event.waitUntil(look(event.source, mends, sparing));
  if (type === "take newest") event.waitUntil(takeServers());
  if (type === "stop") stopping.abort(new Stopped());
  if (type === "take over") event.waitUntil(self.skipWaiting());
  if (type === "rest") restsUntil = Date.now() + LONGEST_REST_MS;
  if (type === "go on") restsUntil = 0;
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (!address.href.startsWith(ROOT.href) || address.pathname === EDITION.pathname) return;
  if (isShared(request, address)) event.respondWith(takeShared(request));
  else if (request.method === "GET") event.respondWith(answer(event, address));
});

class Stopped extends Error {}
/** The server has another edition. */
class OtherEdition extends Error {}

// -- Answering ----------------------------------------------------------------------------------------

async function answer(event, address) {
  const { request } = event;
  const edition = await editionAsking(event);
  if (edition === OF_SERVER) return fetch(request);
  const cache = await cacheOf(edition);
  const path = address.pathname.endsWith("/") ? `${address.pathname}index.html` : address.pathname;
  const stored = await cache.match(await addressIn(cache, path));
  if (stored) return request.headers.has("Range") ? part(stored, request.headers.get("Range")) : stored;
  if (await cache.match(new URL(`${address.pathname}/index.html`, ROOT))) {
    return Response.redirect(`${address.pathname}/${address.search}`, 302);
  }
  if (edition === VERSION && byPath().has(path)) return mended(event, path);
  return notOurs(event, edition);
}

/** The caches that are open: a page asks for some thirty files. */
const openCaches = new Map();

function cacheOf(edition) {
  if (!openCaches.has(edition)) {
    const opening = caches.open(PREFIX + edition);
    // One that could not be opened is tried again by the next request.
    opening.catch(() => openCaches.delete(edition));
    openCaches.set(edition, opening);
  }
  return openCaches.get(edition);
}

/** Answer for a file of this edition that is no longer stored. */
async function mended(event, path) {
  const { request } = event;
  try {
    const cache = await caches.open(CACHE);
    await keep(cache, [], byPath().get(path));
    event.waitUntil(mend());
    return (await cache.match(new URL(path, ROOT))) ?? Response.error();
  } catch (error) {
    if (error instanceof OtherEdition) {
      event.waitUntil(takeServers());
      // A page then comes whole from the server; a single file would not fit the page that asks for it.
      if (request.mode !== "navigate") return Response.error();
      await note(event.resultingClientId, OF_SERVER);
      return fetch(request);
    }
    return (request.mode === "navigate" && (await sitePage("503.html", 503))) || Response.error();
  }
}

/** Answer for a file that is not in the edition of the client. */
async function notOurs(event, edition) {
  const { request } = event;
  if (edition === VERSION && request.mode !== "navigate") {
    // The client may be an unrecorded worker of an older page.
    const { editions } = await (notes ??= readNotes());
    for (const each of new Set(Object.values(editions))) {
      const stored = await caches.match(request.url, { cacheName: PREFIX + each });
      if (stored) return stored;
    }
  }
  try {
    const came = await fetch(request);
    // A page that only a newer edition has belongs to that edition, with everything it loads.
    if (request.mode === "navigate" && came.ok) await note(event.resultingClientId, OF_SERVER);
    // Such a client has another edition than the server.
    return edition !== VERSION && came.ok ? Response.error() : came;
  } catch (error) {
    const page = request.mode === "navigate" && (await sitePage("404.html", 404));
    if (!page) throw error;
    return page;
  }
}

/** One of the site's own error pages, if it is stored. */
async function sitePage(name, status) {
  const page = await (await caches.open(CACHE)).match(new URL(name, ROOT));
  return page && new Response(page.body, { status, headers: page.headers });
}

/** A range of a stored file, as media players and download tools request it. */
async function part(stored, range) {
  const bytes = await stored.arrayBuffer();
  const [, first, last] = /^bytes=(\d*)-(\d*)$/.exec(range) ?? [];
  if (!first && !last) return new Response(bytes, { headers: stored.headers });
  const start = first ? Number(first) : Math.max(0, bytes.byteLength - Number(last));
  const end = first && last ? Math.min(Number(last) + 1, bytes.byteLength) : bytes.byteLength;
  if (start >= end) {
    return new Response("", { status: 416, headers: { "Content-Range": `bytes */${bytes.byteLength}` } });
  }
  const headers = new Headers(stored.headers);
  headers.set("Content-Range", `bytes ${start}-${end - 1}/${bytes.byteLength}`);
  return new Response(bytes.slice(start, end), { status: 206, headers });
}

// -- Which page has which edition -----------------------------------------------------------------------

/**
 * The notes, which outlast this worker: {active: the active edition, past: earlier ones, broken: whether the active one
 * lacks files that the server no longer has, or the reader asks for the newest, sparing: whether to fetch no newer one unasked, editions: {id of a page or of its worker: the edition that it started with}, opened: {the same id: when, in ms}}.
 */
let notes = null;

async function readNotes() {
  const stored = await (await caches.open(NOTES)).match(new URL("notes", ROOT));
  return { active: null, past: [], broken: false, sparing: false, editions: {}, opened: {}, ...(await stored?.json()) };
}

/** Change the notes as they are stored: while one worker follows another, both write. */
async function writeNotes(change) {
  await navigator.locks.request(NOTES, async () => {
    const present = await readNotes();
    change(present);
    await (await caches.open(NOTES)).put(new URL("notes", ROOT), new Response(JSON.stringify(present)));
    notes = Promise.resolve(present);
  });
}

/** The editions of the clients that this worker answers, known before they are noted. */
const answering = new Map();

function note(client, edition) {
  answering.set(client, edition);
  return writeNotes(({ editions, opened }) => {
    editions[client] = edition;
    opened[client] = Date.now();
  });
}

/** The edition of the client. A newly opened page gets this edition; a page's worker gets the page's. */
async function editionAsking(event) {
  const { request, clientId, resultingClientId } = event;
  await takingOver;
  const edition = request.mode === "navigate" ? VERSION : (answering.get(clientId) ?? (await editionNoted(clientId)));
  // The answer need not wait for the note: no other worker takes over before this event ends.
  if (resultingClientId) event.waitUntil(note(resultingClientId, edition));
  return edition;
}

async function editionNoted(client) {
  let present = await (notes ??= readNotes());
  // The worker before this one may have answered this page, and noted it since.
  if (client && !(client in present.editions)) present = await (notes = readNotes());
  // A browser may send requests before this edition takes over. An unrecorded client then belongs to the edition before.
  return present.editions[client] ?? present.active ?? VERSION;
}

async function takeOver() {
  takingOver = noteOlder();
  await takingOver;
  await clearOlder(() => true);
  // The page that started this was loaded from the network; from now on its requests come here too.
  await self.clients.claim();
  await tell({ type: "ready" });
}

/** Record the edition of the pages that are open when this one takes over. */
async function noteOlder() {
  const open = await self.clients.matchAll({ type: "all", includeUncontrolled: true });
  await writeNotes((present) => {
    const before = present.active;
    // These started before they could be recorded, or without this worker.
    if (before && before !== VERSION) {
      for (const { id } of open) present.editions[id] ??= before;
      present.past = [...present.past.slice(-9), before];
    }
    Object.assign(present, { active: VERSION, broken: false });
  });
}

/**
 * Delete editions without open pages for which `isOlder` holds: usually earlier active ones. Files of an unfinished newer
 * edition stay, to resume from.
 */
async function clearOlder(isOlder = (edition, { past }) => past.includes(edition)) {
  // An edition that is installing or waiting is not older.
  if (self.registration.installing || self.registration.waiting) return;
  const open = new Set((await self.clients.matchAll({ type: "all", includeUncontrolled: true })).map(({ id }) => id));
  const present = await (notes ??= readNotes());
  const used = new Set([VERSION]);
  const gone = [];
  for (const [id, edition] of Object.entries(present.editions)) {
    if (open.has(id) || Date.now() - (present.opened[id] ?? 0) < OPENS_WITHIN_MS) used.add(edition);
    else gone.push(id);
  }
  if (gone.length) await writeNotes(({ editions, opened }) => gone.forEach((id) => delete editions[id] && delete opened[id]));
  for (const name of await caches.keys()) {
    const edition = name.startsWith(PREFIX) ? name.slice(PREFIX.length) : VERSION;
    if (used.has(edition) || !isOlder(edition, present)) continue;
    openCaches.delete(edition);
    await caches.delete(name);
  }
}

// -- Saving -----------------------------------------------------------------------------------------------

async function install() {
  const { broken, sparing } = await readNotes();
  // Browsers begin an update by themselves. One that may not be fetched unasked ends here.
  if (self.registration.active && sparing && !broken) throw new Error("a newer edition was not asked for");
  await fill();
  // If the active edition has lost files for good, do not wait.
  if ((await readNotes()).broken) await self.skipWaiting();
}

/** Repair the stored edition from the server, or else switch to the server's edition. Never rejects. */
function mend() {
  mending ??= fill()
    .then(() => tell({ type: "ready" }), (error) => (error instanceof OtherEdition ? takeServers() : undefined))
    .catch(() => {})
    .finally(() => (mending = null));
  return mending;
}

/** Make the browser fetch the server's edition, which takes over as soon as it is complete. */
async function takeServers() {
  await writeNotes((present) => (present.broken = true));
  await self.registration.update().catch(() => {});
  self.registration.waiting?.postMessage({ type: "take over" });
}

async function look(page, mends, sparing = false) {
  await clearOlder();
  const { editions, sparing: before, broken } = await (notes ??= readNotes());
  // It may have become complete before this edition was found damaged, and so was not told to take over.
  if (broken) self.registration.waiting?.postMessage({ type: "take over" });
  if (sparing !== before) await writeNotes((present) => (present.sparing = sparing));
  const stored = new Set((await (await caches.open(CACHE)).keys()).map(({ url }) => new URL(url).pathname));
  const missing = [...byPath()].filter(([path]) => !stored.has(path));
  const done = TOTAL - missing.reduce((sum, [, [, , bytes]]) => sum + bytes, 0);
  // The edition of a page that the server answers is unknown.
  const edition = editions[page.id] === OF_SERVER ? null : (editions[page.id] ?? VERSION);
  page.postMessage({ type: missing.length ? "off" : "ready", done, total: TOTAL, edition, offline: VERSION });
  if (missing.length && mends) await mend();
}

/** Store every file of this edition: from this cache, from an older one, or from the network. */
async function fill() {
  if (stopping.signal.aborted) stopping = new AbortController();
  const cache = await caches.open(CACHE);
  const older = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  const sources = await Promise.all(older.map((name) => caches.open(name)));
  const waiting = [...FILES];
  let done = 0;
  let over = false;
  let reportedAt = 0;
  const work = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      while (Date.now() < restsUntil) await new Promise((resolve) => setTimeout(resolve, REST_STEP_MS));
      stopping.signal.throwIfAborted();
      await keep(cache, sources, file, stopping.signal);
      done += file[2];
      if (over || Date.now() - reportedAt < TELL_EVERY_MS) continue;
      reportedAt = Date.now();
      await tell({ type: "saving", share: TOTAL ? done / TOTAL : 1, done, total: TOTAL });
    }
  };
  await tell({ type: "saving", share: 0, done: 0, total: TOTAL });
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  } catch (error) {
    over = true;
    waiting.length = 0;
    const why = error instanceof Stopped ? "stopped" : error.name === "QuotaExceededError" ? "full" : "network";
    await tell({ type: "failed", why });
    throw error;
  }
}

async function keep(cache, sources, [address, digest], signal) {
  const url = new URL(address, ROOT);
  if ((await cache.match(url))?.headers.get(DIGEST) === digest) return;
  for (const source of sources) {
    const stored = await source.match(url);
    if (stored?.headers.get(DIGEST) === digest) {
      await cache.put(url, stored);
      return;
    }
  }
  let wrong = null;
  // Files fetched earlier in this visit are usable if they belong to this edition.
  for (const from of ["default", "reload"]) {
    const response = await fetch(url, { cache: from, signal });
    const bytes = await response.arrayBuffer();
    if (!response.ok || (await digestOf(bytes)) !== digest) {
      // A server error says nothing about the edition; a missing or different file does.
      wrong = response.ok || response.status === 404 || response.status === 410 ? OtherEdition : Error;
      continue;
    }
    const headers = { "Content-Type": response.headers.get("Content-Type") ?? "application/octet-stream", [DIGEST]: digest };
    await cache.put(url, new Response(bytes, { headers }));
    return;
  }
  throw new wrong(`${url}: is not the file of this edition`);
}

async function digestOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest.subarray(0, 6), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function tell(message) {
  for (const client of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) {
    client.postMessage({ ...message, offline: VERSION });
  }
}
