// Receives pictures that other apps share (share_target in builder/manifest.py). The picture waits in the notes until the
// reader chooses a calculator, whose page takes it (theme/scripts/keep/arrived.mjs).

const SHARE = new URL("share/", ROOT);
/** The cache key of the waiting picture. Nothing is ever fetched from this address. */
const ARRIVED = new URL("share/arrived", ROOT);
/** More than any field accepts: a larger picture is not stored, since it would be refused. */
const MOST_BYTES = 64 * 1024 * 1024;
/** The manifest that pages name, and the one with the share target that they get from this worker (builder/manifest.py). */
const MANIFEST = new URL("manifest.webmanifest", ROOT);
const SHARING = new URL("manifest-sharing.webmanifest", ROOT);

/** The address of the stored file that answers for `path`, a path within the site. */
async function addressIn(cache, path) {
  const offersShare = path === MANIFEST.pathname && (await cache.match(SHARING));
  return offersShare ? SHARING : new URL(path, ROOT);
}

function isShared(request, address) {
  return request.method === "POST" && address.pathname === SHARE.pathname;
}

/** Store the shared picture in place of an earlier one, and redirect to the page that offers calculators. */
async function takeShared(request) {
  const cache = await caches.open(NOTES);
  await cache.delete(ARRIVED);
  try {
    const picture = (await request.formData()).getAll("picture").find((each) => each instanceof File && each.size);
    if (picture && picture.size <= MOST_BYTES) {
      const headers = { "Content-Type": picture.type || "application/octet-stream", "File-Name": encodeURIComponent(picture.name) };
      await cache.put(ARRIVED, new Response(picture, { headers }));
    }
  } catch {
    // The page says that no picture arrived.
  }
  return Response.redirect(SHARE, 303);
}
