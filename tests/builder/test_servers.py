"""The two static servers: the one of ``make serve`` and the one for tests."""

import gzip
import http.client
import time
from contextlib import closing
from urllib.parse import urlsplit

import pytest

from tests.servers import Server

PAGE = b"<!doctype html><title>T</title>" + b"<p>words</p>" * 200


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "size").mkdir()
    (tmp_path / "index.html").write_bytes(PAGE)
    (tmp_path / "size" / "index.html").write_bytes(PAGE)
    (tmp_path / "404.html").write_bytes(b"nothing here")
    for name in ("a.mjs", "a.wasm", "a.zip.gz", "a.woff2", "a.unheard"):
        (tmp_path / name).write_bytes(b"bytes of " + name.encode())
    return tmp_path


def fetched(url, **headers):
    """The status, headers and body of one reply; a redirection is not followed."""
    place = urlsplit(url)
    with closing(http.client.HTTPConnection(place.hostname, place.port)) as connection:
        connection.request("GET", url.removeprefix(f"http://{place.netloc}"), headers=headers)
        reply = connection.getresponse()
        return reply.status, reply.headers, reply.read()


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("a.mjs", "text/javascript; charset=utf-8"),  # HTML, section 4.12.1.1: a JavaScript MIME type, or no module
        ("a.wasm", "application/wasm"),  # WebAssembly Web API, section 4: exactly this, or no streaming
        ("a.zip.gz", "application/octet-stream"),
        ("a.woff2", "font/woff2"),  # RFC 8081
        ("a.unheard", "application/octet-stream"),
        ("size/", "text/html; charset=utf-8"),
    ],
)
def test_every_file_has_the_type_that_a_browser_insists_on(folder, name, kind):
    with Server(folder) as server:
        status, headers, body = fetched(server.url + name)
    assert status == 200
    assert headers["Content-Type"] == kind
    assert headers["Content-Encoding"] is None
    assert body == (folder / name / "index.html" if name.endswith("/") else folder / name).read_bytes()


def test_a_site_below_a_path_is_served_only_there(folder):
    with Server(folder, below="/a/b/") as server:
        top = f"http://127.0.0.1:{server.port}"
        assert fetched(server.url + "size/")[2] == PAGE
        for path in ("/size/", "/a/size/", "/a/bsize/", "/a/b/missing"):
            status, _, body = fetched(top + path)
            assert (status, body) == (404, b"nothing here"), path


@pytest.mark.parametrize(("path", "location"), [("/a/b/size", "/a/b/size/"), ("/a/b", "/a/b/")])
def test_a_folder_without_slash_redirects_below_its_path(folder, path, location):
    with Server(folder, below="/a/b/") as server:
        status, headers, _ = fetched(f"http://127.0.0.1:{server.port}{path}")
    assert (status, headers["Location"]) == (301, location)


def test_text_is_compressed_for_clients_that_accept_it(folder):
    with Server(folder, packs=True) as server:
        _, packed, body = fetched(server.url, **{"Accept-Encoding": "gzip"})
        _, plain, plain_body = fetched(server.url)
        _, runtime, runtime_body = fetched(server.url + "a.zip.gz", **{"Accept-Encoding": "gzip"})
    assert packed["Content-Encoding"] == "gzip" and gzip.decompress(body) == PAGE and len(body) < len(PAGE)
    assert plain["Content-Encoding"] is None and plain_body == PAGE
    assert runtime["Content-Encoding"] is None and runtime_body == b"bytes of a.zip.gz"
    assert [request.sent_bytes for request in server.requests] == [len(body), len(PAGE), len(runtime_body)]


def test_cached_files_are_not_sent_again(folder):
    with Server(folder, packs=True) as server:
        _, first, _ = fetched(server.url, **{"Accept-Encoding": "gzip"})
        again = fetched(server.url, **{"Accept-Encoding": "gzip", "If-Modified-Since": first["Last-Modified"]})
    assert (again[0], again[2]) == (304, b"")


def test_requests_are_counted_with_their_bytes(folder):
    with Server(folder, below="/a/b/") as server:
        for path in ("a.mjs", "a.mjs?x=1", "missing"):
            fetched(server.url + path)
    assert server.counts() == {"/a.mjs": 1, "/a.mjs?x=1": 1, "/missing": 1}
    assert [request.status for request in server.requests] == [200, 200, 404]
    assert server.sent_bytes(r"\.mjs") == 2 * len(b"bytes of a.mjs")


def test_single_paths_can_be_broken_and_delayed(folder):
    with Server(folder) as server:
        server.broken[r"\.wasm$"] = 503
        server.delays[r"\.mjs$"] = 0.2
        assert fetched(server.url + "a.wasm")[0] == 503
        started = time.monotonic()
        assert fetched(server.url + "a.mjs")[0] == 200
        assert time.monotonic() - started >= 0.2
        server.clear()
        assert fetched(server.url + "a.wasm")[2] == b"bytes of a.wasm"


def test_a_stopped_server_restarts_at_the_same_address(folder):
    server = Server(folder).start()
    url = server.url
    with closing(http.client.HTTPConnection("127.0.0.1", server.port)) as connection:
        connection.request("GET", "/")
        connection.getresponse().read()
        server.stop()
        with pytest.raises(ConnectionRefusedError):
            fetched(url)
        # The open connection is gone too, and a new one is refused.
        with pytest.raises(ConnectionError):  # noqa: PT012 - either call may be the one that fails
            connection.request("GET", "/")
            connection.getresponse()
    with server:
        assert server.url == url
        assert fetched(url)[2] == PAGE
