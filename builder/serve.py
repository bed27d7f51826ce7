"""Serving the site from this machine: a plain static server, and one that builds again at every change."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from os import PathLike
from pathlib import Path
from typing import Any, BinaryIO, TypeVar
from urllib.parse import unquote, urlsplit

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver

from builder.mistakes import Mistakes

#: What the site is made of. A change in any of it makes the site again.
WATCHED = ("data", "content", "calculators", "builder/templates", "theme", "mkdocs.yml")

#: A save often touches several files, so the build waits until it has been quiet for this long.
QUIET_S = 0.3

#: The types that browsers require for modules and for streaming compilation (HTML, WebAssembly Web API); the machine's
#: own list may differ. The page unpacks the runtime itself, so the host must not.
MEDIA_TYPES = {
    ".css": "text/css",
    ".gz": "application/octet-stream",
    ".html": "text/html",
    ".ico": "image/x-icon",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".xml": "application/xml",
    ".yaml": "text/plain",
    ".zip": "application/zip",
}

#: Served in place of the offline worker during development: a worker left by an earlier preview would go on
#: showing old pages.
NO_OFFLINE_WORKER = b"""addEventListener("install", () => skipWaiting());
addEventListener("activate", async () => {
  for (const name of await caches.keys()) await caches.delete(name);
  await registration.unregister();
  for (const client of await clients.matchAll()) client.navigate(client.url);
});
"""


class StaticHandler(SimpleHTTPRequestHandler):
    """Serves the files of a folder below a path, as a static host does."""

    protocol_version = "HTTP/1.1"
    # Otherwise many a body waits 40 ms for the browser to acknowledge its headers.
    disable_nagle_algorithm = True

    def __init__(self, *args: Any, directory: Path, below: str = "/", **more: Any) -> None:
        self.below = below
        super().__init__(*args, directory=str(directory), **more)

    def translate_path(self, path: str) -> str:
        return super().translate_path("/" + path.removeprefix(self.below))

    def send_head(self) -> BytesIO | BinaryIO | None:
        path = unquote(urlsplit(self.path).path)
        if f"{path}/" == self.below:
            self.send_moved(self.below)
            return None
        if not path.startswith(self.below):
            self.send_missing()
            return None
        found = Path(self.translate_path(self.path))
        if not (found.is_file() or (found / "index.html").is_file()):
            self.send_missing()
            return None
        return super().send_head()

    def send_moved(self, path: str) -> None:
        """Send the browser to ``path``."""
        self.send_response(HTTPStatus.MOVED_PERMANENTLY)
        self.send_header("Location", path)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def send_missing(self) -> None:
        """Send the site's own "not found" page."""
        page = Path(self.directory) / "404.html"
        body = page.read_bytes() if page.is_file() else b"Not found"
        self.send_response(HTTPStatus.NOT_FOUND)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def guess_type(self, path: str | PathLike[str]) -> str:
        kind = MEDIA_TYPES.get(Path(path).suffix.lower(), "application/octet-stream")
        return f"{kind}; charset=utf-8" if kind.startswith("text/") else kind

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Log no requests: the terminal shows builds and their mistakes."""


class _WorkshopServer(ThreadingHTTPServer):
    """A server of a site that is made again. A change of ``site`` counts from the next request."""

    site: Path


class _WorkshopHandler(StaticHandler):
    server: _WorkshopServer

    def send_head(self) -> BytesIO | BinaryIO | None:
        # A connection may outlive a build, so each request looks for the newest site.
        self.directory = str(self.server.site)
        return super().send_head()

    def do_GET(self) -> None:
        if urlsplit(self.path).path != f"{self.below}offline-worker.js":
            super().do_GET()
            return
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/javascript; charset=utf-8")
        self.send_header("Content-Length", str(len(NO_OFFLINE_WORKER)))
        self.end_headers()
        self.wfile.write(NO_OFFLINE_WORKER)


_Kind = TypeVar("_Kind", bound=ThreadingHTTPServer)


def _listen(kind: type[_Kind], port: int, handler: Callable[..., StaticHandler]) -> _Kind:
    try:
        return kind(("127.0.0.1", port), handler)
    except OSError as error:
        raise Mistakes([f"Port {port} cannot be used: {error.strerror}. Name another: --port {port + 1}"]) from None


def listen(folder: Path, port: int) -> ThreadingHTTPServer:
    """Return a server of ``folder`` that holds ``port`` of this machine. Raises ``Mistakes`` if it cannot."""
    return _listen(ThreadingHTTPServer, port, partial(StaticHandler, directory=folder))


def listen_for_changes(site: Path, port: int) -> _WorkshopServer:
    """Return a server of ``site``, and later of what its ``site`` is set to. Raises ``Mistakes`` as ``listen``."""
    server = _listen(_WorkshopServer, port, partial(_WorkshopHandler, directory=site))
    server.site = site
    return server


def serve_until_interrupted(server: ThreadingHTTPServer) -> None:
    """Serve until Ctrl+C."""
    print(f"Serving http://127.0.0.1:{server.server_port}/ until Ctrl+C", flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print()
    finally:
        server.server_close()


class _Changes(FileSystemEventHandler):
    """Sets ``changed`` whenever a watched file is made, written, moved or removed."""

    def __init__(self, root: Path) -> None:
        self.changed = threading.Event()
        self._watched = [root / name for name in WATCHED]

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.event_type in ("opened", "closed_no_write") or event.is_directory:
            return
        paths = [Path(str(path)) for path in (event.src_path, event.dest_path) if path]
        if any(self.counts(path) for path in paths):
            self.changed.set()

    def counts(self, path: Path) -> bool:
        """Whether ``path`` is a source, not a by-product such as bytecode."""
        if "__pycache__" in path.parts or path.suffix in (".pyc", ".swp") or path.name.endswith("~"):
            return False
        return any(path == watched or watched in path.parents for watched in self._watched)


def watch(root: Path) -> tuple[_Changes, BaseObserver]:
    """Begin to watch the sources below ``root``; the caller stops the observer."""
    changes = _Changes(root)
    observer = Observer()
    for folder in sorted({root / name for name in WATCHED if (root / name).is_dir()}):
        observer.schedule(changes, str(folder), recursive=True)
    observer.schedule(changes, str(root), recursive=False)
    observer.start()
    return changes, observer


def rebuild(root: Path, site_url: str, out: Path) -> bool:
    """Make the site, quickly, in a process of its own that sees every changed module. Return whether it went well.

    When it did not, the mistakes are in the terminal and the last good site stays.
    """
    command = [
        sys.executable,
        "-m",
        "builder",
        "build",
        "--no-offline",
        "--no-snapshot",
        "--legible",
        "--site-url",
        site_url,
        "--out",
        str(out),
        "--scratch",
        str(root / "build" / "serve"),
    ]
    return subprocess.run(command, cwd=root, check=False).returncode == 0


def serve(root: Path, port: int) -> None:
    """Make the site, serve it, and make it again at every change, until Ctrl+C. Raises ``Mistakes``."""
    # The next site is made beside the one that is served, so that no request finds half of one.
    out, beside = root / "build" / "served", root / "build" / "served-next"
    server = listen_for_changes(out, port)
    site_url = f"http://127.0.0.1:{server.server_port}/"
    changes, observer = watch(root)
    rebuild(root, site_url, out)

    def keep_up() -> None:
        while True:
            changes.changed.wait()
            while changes.changed.is_set():
                changes.changed.clear()
                time.sleep(QUIET_S)
            making = beside if server.site == out else out
            if rebuild(root, site_url, making):
                server.site = making
            else:
                print("The site stays as it was before this change", file=sys.stderr, flush=True)

    threading.Thread(target=keep_up, daemon=True).start()
    try:
        serve_until_interrupted(server)
    finally:
        observer.stop()
        observer.join()


def preview(root: Path, port: int) -> None:
    """Make the site as it is published, all but its address, and serve it until Ctrl+C. Raises ``Mistakes``."""
    out = root / "build" / "preview"
    server = listen(out, port)
    site_url = f"http://127.0.0.1:{server.server_port}/"
    made = subprocess.run(
        [sys.executable, "-m", "builder", "build", "--site-url", site_url, "--out", str(out)], cwd=root, check=False
    )
    if made.returncode == 0:
        serve_until_interrupted(server)
