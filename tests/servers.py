"""A static host for tests: it serves below any path, counts requests, and fails on demand."""

from __future__ import annotations

import gzip
import re
import threading
from collections import Counter
from dataclasses import dataclass, field
from functools import partial
from http import HTTPStatus
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

from builder.serve import MEDIA_TYPES, StaticHandler

#: Bytes written at once on a slow line, and on any other.
_PIECE_BYTES, _LARGE_PIECE_BYTES = 2_048, 65_536
#: File types that usual hosts compress. Fonts, pictures and compressed files are sent unchanged.
PACKED_TYPES = ("text/", "application/json", "application/xml", "image/svg+xml", "application/wasm")


def served_bytes(path: Path) -> int:
    """Return the bytes of a file as a usual host sends it to a client that accepts gzip."""
    kind = MEDIA_TYPES.get(path.suffix.lower(), "application/octet-stream")
    return len(gzip.compress(path.read_bytes(), 6)) if kind.startswith(PACKED_TYPES) else path.stat().st_size


@dataclass
class Request:
    """One request: its path and query below the site, then, once answered, status and bytes of the body."""

    path: str
    status: int = 0
    sent_bytes: int = 0


@dataclass
class Server:
    """Serves ``folder`` below ``below`` at a free port of this machine.

    ``packs`` sends gzipped text to clients that accept it. ``delays`` and ``broken`` map a path pattern (a regular
    expression, searched in the path below the site) to seconds and to a status. ``bytes_per_s`` limits all bodies
    together unless it is 0. ``requests`` lists the requests in order of arrival.
    """

    folder: Path
    below: str = "/"
    packs: bool = False
    port: int = 0
    delays: dict[str, float] = field(default_factory=dict)
    broken: dict[str, int] = field(default_factory=dict)
    bytes_per_s: float = 0
    requests: list[Request] = field(default_factory=list)
    _server: ThreadingHTTPServer | None = None
    _thread: threading.Thread | None = None
    _line: threading.Lock = field(default_factory=threading.Lock)

    @property
    def url(self) -> str:
        """The address of the site, with its closing slash; the same after a restart."""
        return f"http://127.0.0.1:{self.port}{self.below}"

    def start(self) -> Server:
        """Begin to serve; does nothing if already serving."""
        if self._server:
            return self
        handler = partial(_Handler, directory=self.folder, below=self.below, host=self)
        self._server = _Host(("127.0.0.1", self.port), handler)
        self.port = self._server.server_port
        self._thread = threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        self._thread.start()
        return self

    def stop(self) -> None:
        """Stop at once, like a lost network: open connections end, new ones are refused."""
        if self._server:
            self._server.shutdown()
            self._server.end_connections()
            self._server.server_close()
            self._thread.join()
            self._server = None

    def clear(self) -> None:
        """Forget the requests, the delays and what is broken."""
        self.requests.clear()
        self.delays.clear()
        self.broken.clear()
        self.bytes_per_s = 0

    def counts(self) -> Counter[str]:
        """Return how often each path was asked for."""
        return Counter(request.path for request in self.requests)

    def sent_bytes(self, pattern: str = "") -> int:
        """Return the bytes sent as bodies for paths in which ``pattern`` is found."""
        return sum(request.sent_bytes for request in self.requests if re.search(pattern, request.path))

    def on_the_line(self, sent_bytes: int) -> None:
        """Wait as long as a slow line takes for so many bytes, one connection after the other."""
        if self.bytes_per_s:
            with self._line:
                # The line may have become fast while waiting.
                threading.Event().wait(sent_bytes / (self.bytes_per_s or float("inf")))

    def __enter__(self) -> Server:
        return self.start()

    def __exit__(self, *_: object) -> None:
        self.stop()


class _Host(ThreadingHTTPServer):
    daemon_threads = True
    request_queue_size = 64

    def __init__(self, *args, **more) -> None:
        self._open: set = set()
        super().__init__(*args, **more)

    def process_request(self, request, client_address) -> None:
        self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request) -> None:
        self._open.discard(request)
        super().shutdown_request(request)

    def end_connections(self) -> None:
        for request in list(self._open):
            self.shutdown_request(request)

    def handle_error(self, request, client_address) -> None:
        """Do not report browsers that disconnect in the middle."""


class _Handler(StaticHandler):
    def __init__(self, *args, host: Server, **more) -> None:
        self.host = host
        self._request = Request("")
        super().__init__(*args, **more)

    def do_GET(self) -> None:
        self._request = Request("/" + self.path.removeprefix(self.below))
        self.host.requests.append(self._request)
        for seconds in self._values_for_path(self.host.delays):
            threading.Event().wait(seconds)
        for status in self._values_for_path(self.host.broken):
            self.send_response(status)
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        body = self._packed()
        if body is None:
            counting = self.wfile = _Counting(self.wfile, self.host)
            super().do_GET()
            self._request.sent_bytes, self.wfile = counting.body_bytes, counting.file
            return
        file = self._file()
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(file))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Last-Modified", self.date_time_string(file.stat().st_mtime))
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        counting = self.wfile = _Counting(self.wfile, self.host)
        self.wfile.write(body)
        self._request.sent_bytes, self.wfile = counting.body_bytes, counting.file

    def _values_for_path(self, patterns: dict) -> list:
        return [value for pattern, value in list(patterns.items()) if re.search(pattern, self._request.path)]

    def send_response(self, code, message=None) -> None:
        self._request.status = int(code)
        super().send_response(code, message)

    def end_headers(self) -> None:
        super().end_headers()
        if isinstance(self.wfile, _Counting):
            self.wfile.body_bytes = 0

    def _file(self) -> Path:
        path = Path(self.translate_path(self.path))
        return path / "index.html" if path.is_dir() else path

    def _packed(self) -> bytes | None:
        """Return the gzipped file if this host compresses it, else None to send it unchanged."""
        file = self._file()
        if not (self.host.packs and self.path.startswith(self.below) and file.is_file()):
            return None
        is_unfinished = file.name == "index.html" and not urlsplit(self.path).path.endswith(("/", "/index.html"))
        if is_unfinished or "If-Modified-Since" in self.headers:
            return None
        accepted = "gzip" in self.headers.get("Accept-Encoding", "")
        return _gzipped(file) if accepted and self.guess_type(file).startswith(PACKED_TYPES) else None


class _Counting:
    """Counts the bytes written since the end of the headers, and writes them as slowly as the host's line is."""

    def __init__(self, file, host: Server) -> None:
        self.file = file
        self.host = host
        self.body_bytes = 0

    def write(self, data) -> int:
        self.body_bytes += len(data)
        start = 0
        while start < len(data):
            piece = data[start : start + (_PIECE_BYTES if self.host.bytes_per_s else _LARGE_PIECE_BYTES)]
            self.host.on_the_line(len(piece))
            self.file.write(piece)
            start += len(piece)
        return len(data)

    def __getattr__(self, name: str):
        return getattr(self.file, name)


_packed_files: dict[tuple[Path, int], bytes] = {}


def _gzipped(file: Path) -> bytes:
    key = (file, file.stat().st_mtime_ns)
    if key not in _packed_files:
        # Hosts usually compress at level 6.
        _packed_files[key] = gzip.compress(file.read_bytes(), 6, mtime=0)
    return _packed_files[key]
