"""The content policy: one for the whole site, written into every page.

The theme's instant navigation swaps pages without a fresh load, so the policy of the first page
holds for all that follow. Hence the hashes of the inline scripts of every page go into one policy.
A page that the policy would break (inline style, inline handlers, things loaded from elsewhere) is a
mistake of the build, not something to find out in the reader's browser.
"""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import dataclass, field
from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path

from builder.listing import files_below
from builder.mistakes import Mistakes

#: Types of script that a browser runs, or obeys, and so checks against the policy. JSON is neither.
EXECUTABLE = frozenset({"", "module", "text/javascript", "application/javascript", "importmap", "speculationrules"})

#: A browser looks for the page's character encoding in this many bytes and no further.
ENCODING_WITHIN_BYTES = 1024

# Pages are searched as bytes: HTML ignores case for ASCII letters only, and bytes are lowered and searched several
# times faster than text.
_HEAD = re.compile(rb"<head(?:\s[^>]*)?>", re.IGNORECASE)
_POLICY = re.compile(rb'<meta http-equiv="Content-Security-Policy" content="[^"]*">')
_ELSEWHERE = re.compile(r"^(?:[a-z][a-z0-9+.-]*:)?//", re.IGNORECASE)
_CHARSET = re.compile(rb"<meta\s+charset=[^>]*>", re.IGNORECASE)

#: Attributes whose address is fetched as the page loads; of ``link``, only for these relations.
_LOADED = {
    "script": "src",
    "img": "src",
    "iframe": "src",
    "source": "src",
    "video": "src",
    "audio": "src",
    "embed": "src",
    "object": "data",
}
_TAGS = "|".join((*(tag for tag in _LOADED if tag != "script"), "link"))
_ATTRIBUTES = r"""[^<>"']*(?:(?:"[^"]*"|'[^']*')[^<>"']*)*"""
#: A script with what it holds, or the start of another element that loads something; in small letters.
_ELEMENTS = re.compile(
    rf"(<(?:script(?=[\s>]){_ATTRIBUTES}>.*?</script\s*>|(?:{_TAGS})(?=[\s/>]){_ATTRIBUTES}>))".encode(), re.DOTALL
)
#: Links that differ from page to page and load nothing.
_NOT_LOADED = re.compile(rb'<link rel="(?:canonical|prev|next)" href="[^"]*">')
#: Anything else, in lower case, that could concern the policy.
_UNSURE = re.compile(rf"<(?:[!?](?!doctype html>)|(?:script|style|{_TAGS})(?![\w-]))".encode())
_ATTRIBUTE = (re.compile(rb"style\s*="), re.compile(rb"on[a-z]+\s*="))
_BEFORE_IN_NAME = re.compile(rb"[\w:\x80-\xff-]")
_LOADED_RELATIONS = frozenset(
    {"stylesheet", "icon", "preload", "modulepreload", "preconnect", "dns-prefetch", "prefetch", "manifest"}
)


@dataclass
class Findings:
    """The parts of one page that concern the policy."""

    scripts: list[str] = field(default_factory=list)
    forbidden: list[tuple[int, str]] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.findings = Findings()
        self._script: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        line = self.getpos()[0]
        if tag == "style":
            self.findings.forbidden.append((line, "a <style> element"))
        for name in attributes:
            if name == "style":
                self.findings.forbidden.append((line, f"a style attribute on <{tag}>"))
            elif name.startswith("on"):
                self.findings.forbidden.append((line, f"an inline handler, {name}, on <{tag}>"))
        address = attributes.get(_LOADED.get(tag, ""), "")
        if tag == "link" and _LOADED_RELATIONS & set(attributes.get("rel", "").lower().split()):
            address = attributes.get("href", "")
        if _ELSEWHERE.match(address):
            self.findings.forbidden.append((line, f"<{tag}> loads {address}, which is not on this site"))
        if tag == "script" and "src" not in attributes and attributes.get("type", "").strip().lower() in EXECUTABLE:
            self._script = []

    def handle_data(self, data: str) -> None:
        if self._script is not None:
            self._script.append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "script" and self._script is not None:
            self.findings.scripts.append("".join(self._script))
            self._script = None


def read_page(html: bytes) -> Findings:
    """Return the inline scripts of a page, in UTF-8, and what in it the policy forbids with its line."""
    concerned = _concerned(html)
    if concerned is not None:
        found = read_whole(b"".join(each for each in concerned if not _NOT_LOADED.match(each)))
        if not found.forbidden:
            return found
    return read_whole(html)


# Pages of one kind hold the same elements, so cache: ten thousand entries are parsed once.
@lru_cache(maxsize=64)
def read_whole(html: bytes) -> Findings:
    """Return the same as ``read_page``, by parsing the whole page."""
    reader = _Reader()
    reader.feed(html.decode())
    reader.close()
    return reader.findings


def _concerned(html: bytes) -> list[bytes] | None:
    """Return the elements of a page that can concern the policy, or None if the whole page must be parsed.

    Most of a page is irrelevant to the policy and a site may have ten thousand pages, so only relevant elements are
    parsed. Anything that looks like a forbidden attribute or element makes the whole page be parsed.
    """
    pieces = _ELEMENTS.split(html)
    found, rest = pieces[1::2], b"".join(pieces[::2]).lower()
    if _UNSURE.search(rest):
        return None
    # Patterns that begin with plain letters are searched several times faster, so check the preceding text afterwards.
    names = (match.start() for each in _ATTRIBUTE for match in each.finditer(rest))
    return None if any(not _BEFORE_IN_NAME.match(rest, start - 1) for start in names) else found


def script_hash(script: str) -> str:
    """Return the source expression that allows one inline script (Content Security Policy 3, 2.3.1)."""
    # A browser turns every line ending into one line feed before it takes the hash.
    text = script.replace("\r\n", "\n").replace("\r", "\n")
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


def policy(scripts: list[str]) -> str:
    """Return the policy under which ``scripts`` may run inline and nothing leaves the site."""
    hashes = sorted({script_hash(each) for each in scripts})
    return "; ".join(
        [
            "default-src 'none'",
            " ".join(["script-src 'self' 'wasm-unsafe-eval'", *hashes]),
            "style-src 'self'",
            "img-src 'self' data: blob:",
            "font-src 'self'",
            "connect-src 'self'",
            "worker-src 'self'",
            "manifest-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )


def write_policy(site: Path) -> str:
    """Write the policy into every page below ``site`` and return it.

    Raises ``Mistakes`` naming each page that holds something which the policy forbids. Doing it a
    second time changes nothing.
    """
    pages = {name: (site / name).read_bytes() for name in files_below(site) if name.endswith(".html")}
    scripts: list[str] = []
    mistakes: list[str] = []
    for name, html in pages.items():
        found = read_page(html)
        scripts += found.scripts
        mistakes += [f"{name}:{line}: {what}. The content policy does not allow it" for line, what in found.forbidden]
    text = policy(scripts)
    meta = f'<meta http-equiv="Content-Security-Policy" content="{text}">'.encode()
    for name, html in pages.items():
        # Most pages have none yet, and plain text is found many times faster.
        bare = _POLICY.sub(b"", html) if b"Content-Security-Policy" in html else html
        head = _HEAD.search(bare)
        if head is None:
            mistakes.append(f"{name}: has no <head> to write the content policy into")
            continue
        data = bare[: head.end()] + meta + bare[head.end() :]
        charset = _CHARSET.search(data)
        if charset is None or charset.end() > ENCODING_WITHIN_BYTES:
            mistakes.append(
                f"{name}: <meta charset> does not end within the first {ENCODING_WITHIN_BYTES} bytes. It must "
                "come first in the <head> of theme/main.html, and the inline scripts of the site must be few"
            )
            continue
        (site / name).write_bytes(data)
    if mistakes:
        raise Mistakes(mistakes)
    return text
