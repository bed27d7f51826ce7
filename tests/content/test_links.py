"""Every link of the built site leads to an existing page or file, and to an existing anchor."""

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin, urlsplit

import pytest

#: Anchors that no element has: they are read by a script.
BY_SCRIPT = {"bench"}


class Page(HTMLParser):
    """The addresses that a page names, and the anchors in it."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[tuple[int, str]] = []
        self.anchors: set[str] = set()
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        self.anchors |= {attributes[name] for name in ("id", "name") if attributes.get(name)}
        # Readers do not follow these links.
        if tag == "link" and attributes.get("rel") in ("canonical", "prev", "next"):
            return
        self.links += [(self.getpos()[0], attributes[name]) for name in ("href", "src") if name in attributes]


@pytest.fixture(scope="module")
def pages(site_root) -> dict[str, Page]:
    """Every page of the site by its file below the site's folder."""
    folder = site_root.folder
    return {
        path.relative_to(folder).as_posix(): Page(path.read_text("utf-8")) for path in sorted(folder.rglob("*.html"))
    }


def leads_to(folder: Path, file: str, link: str) -> tuple[str, str] | None:
    """Return the file that a link on a page leads to and the anchor in it, or None where it leads to another site."""
    if urlsplit(link).scheme or link.startswith("//"):
        return None
    address, anchor = urldefrag(urljoin(f"/{file}", link))
    path = unquote(urlsplit(address).path).lstrip("/")
    if path.endswith("/") or not path or (folder / path).is_dir():
        path = f"{path.rstrip('/')}/index.html".lstrip("/")
    return path, unquote(anchor)


def test_no_link_is_broken(pages, site_root):
    dead, checked = [], 0
    for file, page in pages.items():
        if file == "404.html":
            continue  # its addresses begin at the host's root, since it is shown at any depth
        for line, link in page.links:
            led = leads_to(site_root.folder, file, link)
            if led is None:
                continue
            path, anchor = led
            checked += 1
            if not (site_root.folder / path).is_file():
                dead.append(f"{file}:{line}: {link}: there is no {path}")
            elif anchor and path in pages and anchor not in pages[path].anchors | BY_SCRIPT:
                dead.append(f"{file}:{line}: {link}: {path} has no anchor {anchor}")
    assert checked > 1000
    assert dead == []


def test_the_not_found_page_links_into_the_site(pages, site_root):
    links = [
        urlsplit(link).path.removeprefix(site_root.below) for _, link in pages["404.html"].links if link.startswith("/")
    ]
    missing = [
        path
        for path in links
        if not ((site_root.folder / path).is_file() or (site_root.folder / path / "index.html").is_file())
    ]
    assert links and missing == []
