// The offline worker. builder/offline.py writes VERSION and FILES, [address, digest, bytes] each, above this line.
//
// It keeps one whole version of the site and answers from it alone. Another version is fetched beside
// it, what did not change copied over, and takes over once no page of the older one is open: never in
// the middle of a visit. That is the browser's own way, and nothing here hurries it.
//
// To pages: {type: "saving", share}, {type: "ready"}, {type: "failed", why: "full" | "network"}
// From pages: {type: "fill"}, to begin or to mend; {type: "look"}, to be told how it stands;
// {type: "rest"}, to put saving off, and {type: "go on"}.

const ROOT = new URL("./", self.location);
const PREFIX = `offline ${ROOT.pathname} `;
const CACHE = PREFIX + VERSION;
const DIGEST = "Site-Digest";
const AT_ONCE = 4;
// A rest ends by itself, since the page that asked for it may be gone.
const LONGEST_REST_MS = 60_000;
const REST_STEP_MS = 100;
let restsUntil = 0;

// By path, so that queries and fragments make no difference.
const digests = new Map(FILES.map(([address, digest]) => [new URL(address, ROOT).pathname, digest]));

self.addEventListener("install", (event) => event.waitUntil(fill()));

self.addEventListener("activate", (event) => event.waitUntil(takeOver()));

self.addEventListener("message", (event) => {
  const type = event.data?.type;
  if (type === "fill") event.waitUntil(fill().then(() => tell({ type: "ready" }), () => {}));
  if (type === "look") event.waitUntil(look());
  if (type === "rest") restsUntil = Date.now() + LONGEST_REST_MS;
  if (type === "go on") restsUntil = 0;
});

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || !address.href.startsWith(ROOT.href)) return;
  event.respondWith(answer(event.request, address));
});

async function answer(request, address) {
  const path = fileAt(address.pathname);
  if (path === null && digests.has(`${address.pathname}/index.html`)) {
    return Response.redirect(`${address.pathname}/${address.search}`, 302);
  }
  const kept = path === null ? null : await (await caches.open(CACHE)).match(path);
  if (kept) return request.headers.has("Range") ? part(kept, request.headers.get("Range")) : kept;
  try {
    return await fetch(request);
  } catch (error) {
    const missing = request.mode === "navigate" && (await (await caches.open(CACHE)).match(new URL("404.html", ROOT)));
    if (!missing) throw error;
    return new Response(missing.body, { status: 404, headers: missing.headers });
  }
}

/** The path of the file that answers for `path`, or null when the site has none. */
function fileAt(path) {
  const file = path.endsWith("/") ? `${path}index.html` : path;
  return digests.has(file) ? file : null;
}

/** A part of a kept file, as players and download tools ask for it. */
async function part(kept, range) {
  const bytes = await kept.arrayBuffer();
  const [, first, last] = /^bytes=(\d*)-(\d*)$/.exec(range) ?? [];
  if (!first && !last) return new Response(bytes, { headers: kept.headers });
  const start = first ? Number(first) : Math.max(0, bytes.byteLength - Number(last));
  const end = first && last ? Math.min(Number(last) + 1, bytes.byteLength) : bytes.byteLength;
  if (start >= end) {
    return new Response("", { status: 416, headers: { "Content-Range": `bytes */${bytes.byteLength}` } });
  }
  const headers = new Headers(kept.headers);
  headers.set("Content-Range", `bytes ${start}-${end - 1}/${bytes.byteLength}`);
  return new Response(bytes.slice(start, end), { status: 206, headers });
}

async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  }
  // The page that began this was loaded from the network: from now on its requests come here as well.
  await self.clients.claim();
  await tell({ type: "ready" });
}

async function look() {
  const kept = await (await caches.open(CACHE)).keys();
  await tell(kept.length >= FILES.length ? { type: "ready" } : { type: "off" });
}

/** Keep every file of this version: from this cache, from an older one, or from the network. */
async function fill() {
  const cache = await caches.open(CACHE);
  const older = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  const sources = await Promise.all(older.map((name) => caches.open(name)));
  const total = FILES.reduce((sum, [, , bytes]) => sum + bytes, 0);
  const waiting = [...FILES];
  let done = 0;
  let over = false;
  const work = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      while (Date.now() < restsUntil) await new Promise((resolve) => setTimeout(resolve, REST_STEP_MS));
      await keep(cache, sources, file);
      done += file[2];
      if (!over) await tell({ type: "saving", share: total ? done / total : 1 });
    }
  };
  await tell({ type: "saving", share: 0 });
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  } catch (error) {
    over = true;
    waiting.length = 0;
    await tell({ type: "failed", why: error.name === "QuotaExceededError" ? "full" : "network" });
    throw error;
  }
}

async function keep(cache, sources, [address, digest]) {
  const url = new URL(address, ROOT);
  if ((await cache.match(url))?.headers.get(DIGEST) === digest) return;
  for (const source of sources) {
    const kept = await source.match(url);
    if (kept?.headers.get(DIGEST) === digest) {
      await cache.put(url, kept);
      return;
    }
  }
  // What was fetched for this visit already is as good, as long as it is of this version.
  for (const from of ["default", "reload"]) {
    const response = await fetch(url, { cache: from });
    const bytes = await response.arrayBuffer();
    if (!response.ok || (await digestOf(bytes)) !== digest) continue;
    const headers = { "Content-Type": response.headers.get("Content-Type") ?? "application/octet-stream", [DIGEST]: digest };
    await cache.put(url, new Response(bytes, { headers }));
    return;
  }
  throw new Error(`${url}: is not the file of this version`);
}

async function digestOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest.subarray(0, 8), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function tell(message) {
  for (const client of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) {
    client.postMessage({ ...message, offline: VERSION });
  }
}
