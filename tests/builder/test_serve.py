"""``make serve`` rebuilds at every change, and a mistake keeps the last good site."""

import re
import signal
import subprocess
import sys
import threading
import time
from http.client import HTTPConnection
from urllib.request import urlopen

import pytest

from builder.mistakes import Mistakes
from builder.serve import _Changes, listen, listen_for_changes, watch
from tests.builder.checkouts import checkout_in

LIMIT_S = 120


@pytest.fixture
def checkout(tmp_path, site_root):
    """A separate checkout that was built before, as that of someone who writes pages: the engine is packed."""
    return checkout_in(tmp_path, built=True)


def until(holds, what):
    """Wait until ``holds()`` is true and return it."""
    end = time.monotonic() + LIMIT_S
    while time.monotonic() < end:
        if found := holds():
            return found
        time.sleep(0.1)
    pytest.fail(f"not within {LIMIT_S} s: {what}")


def test_serve_rebuilds_and_keeps_the_last_good_site(checkout):
    page = checkout / "content" / "size" / "index.md"
    log = checkout / "log.txt"
    with log.open("w") as output:
        # A background job of a shell ignores Ctrl-C, and so would its children.
        serving = subprocess.Popen(
            [sys.executable, "-m", "builder", "serve", "--port", "0"],
            cwd=checkout,
            stdout=output,
            stderr=output,
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # noqa: PLW1509 - no thread runs here yet
        )
    try:
        url = until(lambda: re.search(r"Serving (http://\S+)", log.read_text()), "serving")[1]

        def page_text():
            with urlopen(f"{url}size/") as reply:
                return reply.read().decode()

        # What was packed for the published site serves previews too, which need no snapshot.
        assert list((checkout / "build" / "served" / "engine").glob("snapshot.*"))
        assert "Content-Security-Policy" in page_text()
        # Previews are never saved for offline use, since they change all the time.
        assert "dw-offline" not in page_text() and 'rel="manifest"' not in page_text()
        with urlopen(f"{url}offline-worker.js") as reply:
            assert b"registration.unregister()" in reply.read()

        page.write_text(page.read_text("utf-8") + "\nA sentence put in while it is served.\n", "utf-8")
        script = checkout / "theme" / "scripts" / "frame" / "rule.mjs"
        script.write_text(script.read_text("utf-8") + "\nglobalThis.changedWhileServed = true;\n", "utf-8")
        first = checkout / "build" / "served" / "size" / "index.html"
        before = first.stat().st_ino
        until(lambda: "A sentence put in while it is served." in page_text(), "the changed page")
        # It was made beside the site that was served, in which no file was ever missing.
        assert first.stat().st_ino == before
        (path,) = set(re.findall(r"assets/dw-\w+/scripts/page\.mjs", page_text()))
        with urlopen(url + path) as reply:
            # Unminified, for debugging.
            assert "\nglobalThis.changedWhileServed = true;\n" in reply.read().decode()

        page.write_text(page.read_text("utf-8") + "\n{{ nothing_of_that_name }}\n", "utf-8")
        until(lambda: "'nothing_of_that_name' is undefined" in log.read_text(), "the mistake in the terminal")
        until(lambda: "The site stays as it was" in log.read_text(), "what becomes of the site")
        assert re.search(
            r"^content/size/index\.md:\d+: 'nothing_of_that_name' is undefined$", log.read_text(), re.MULTILINE
        )
        assert "A sentence put in while it is served." in page_text()
    finally:
        serving.send_signal(signal.SIGINT)
        # A running build finishes first.
        assert serving.wait(LIMIT_S) == 0


def test_an_open_connection_gets_pages_of_the_newest_site(tmp_path):
    for name in ("old", "new"):
        (tmp_path / name / "size").mkdir(parents=True)
        (tmp_path / name / "size" / "index.html").write_text(name)
    with listen_for_changes(tmp_path / "old", 0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        connection = HTTPConnection("127.0.0.1", server.server_port, timeout=10)
        try:
            assert page_over(connection) == "old"
            server.site = tmp_path / "new"
            assert page_over(connection) == "new"
        finally:
            connection.close()
            server.shutdown()


def page_over(connection):
    """Return the text of a page, and leave the connection open."""
    connection.request("GET", "/size/")
    return connection.getresponse().read().decode()


def test_a_change_of_a_source_is_noticed(tmp_path):
    (tmp_path / "data").mkdir()
    (tmp_path / "mkdocs.yml").write_text("")
    for name in ("data/scales.yaml", "mkdocs.yml"):
        changes, observer = watch(tmp_path)
        try:
            (tmp_path / name).write_text("changed")
            assert changes.changed.wait(10), name
        finally:
            observer.stop()
            observer.join()


@pytest.mark.parametrize(
    ("name", "counts"),
    [
        ("data/scales.yaml", True),
        ("calculators/size/full_size.py", True),
        ("theme/styles/page.css", True),
        ("builder/templates/calculator.html", True),
        ("mkdocs.yml", True),
        ("theme/scripts/form/form.mjs", True),
        ("calculators/size/__pycache__/full_size.cpython-313.pyc", False),
        ("content/.page.md.swp", False),
        ("content/page.md~", False),
        ("README.md", False),
        ("build/pages/index.md", False),
    ],
)
def test_what_counts_as_a_change(tmp_path, name, counts):
    assert _Changes(tmp_path).counts(tmp_path / name) is counts


def test_a_port_in_use_is_reported(tmp_path):
    with listen(tmp_path, 0) as server:
        with pytest.raises(Mistakes, match=rf"^Port {server.server_port} cannot be used: .* Name another: --port \d+$"):
            listen(tmp_path, server.server_port)
