"""The theme's script, with two things changed that cost every page.

Its first request, for the list of pages, takes a third of the longest task of a page that opens. So requests are sent
in tasks of their own.

Instant navigation writes the addresses of a page out in full, those of its style sheets as well. A browser then reads
the sheets again and styles the whole page anew, in the middle of its start. The theme needs the address to see whether
the next page has the same sheet, so it is noted on the element instead.
"""

from __future__ import annotations

from pathlib import Path

from builder.mistakes import Mistakes

#: What stands in the script, and what takes its place. Each is there once, or this was written for another theme.
_CHANGES = {
    "let o=t.getAttribute(r);if(o&&!/^(?:[a-z]+:)?\\/\\//i.test(o)){t[r]=t[r];break}": (
        "let o=t.getAttribute(r);if(o&&!/^(?:[a-z]+:)?\\/\\//i.test(o))"
        '{t.rel==="stylesheet"?t.dwAddress=t.href:t[r]=t[r];break}'
    ),
    "t.set(r.outerHTML,r)": "t.set(r.dwAddress||r.outerHTML,r)",
    "o.send(),()=>o.abort()})": "(n=>()=>{clearTimeout(n),o.abort()})(setTimeout(()=>o.send()))})",
}


def lighten_theme_script(folder: Path) -> None:
    """Change the theme's script in ``folder``, that of the finished site, if it has one. Raises ``Mistakes``."""
    for script in folder.glob("bundle.*.min.js"):
        text = script.read_text("utf-8")
        missing = [f"{script.name}: the theme's script has no {old!r}" for old in _CHANGES if text.count(old) != 1]
        if missing:
            raise Mistakes(missing)
        for old, new in _CHANGES.items():
            text = text.replace(old, new)
        script.write_text(text, "utf-8")
