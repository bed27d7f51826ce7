"""The HTML of a troubleshooting entry, for its page and for the preview of a new one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from calculators.markup import escape
from calculators.tables import columns
from calculators.tables.rows import Cause, Trouble

Renderer = Callable[[str], str]


def entry_html(
    entry: Trouble,
    *,
    render: Renderer,
    stage_link: str,
    related: Iterable[tuple[str, str]],
    cautions: str = "",
    ids: bool = True,
) -> str:
    """Return an entry as HTML.

    ``render`` turns a sentence with the waits that it names into HTML. ``related`` are addresses with titles, and
    ``cautions`` is HTML to place before the first cause. Without ``ids`` it fits into a page that has its own.
    """
    named = columns(Trouble)

    def heading(part: str, more: str = "") -> str:
        of_its_own = f' id="{part}"' if ids else ""
        return f"<h2{of_its_own}>{escape(named[part].label)}{more}</h2>"

    def listed(texts: Sequence[str], kind: str = "") -> str:
        return f"<ul{kind}>{''.join(f'<li>{render(each)}</li>' for each in texts)}</ul>"

    # Keep separators apart from words: the search treats adjacent punctuation as part of a word.
    phrases = " · ".join(map(escape, entry.said))
    spoken = f'<p class="dw-entry-said">{escape(named["said"].label)}: {phrases}</p>\n' if phrases else ""
    links = "".join(f'<li><a href="{escape(address)}">{escape(title)}</a></li>' for address, title in related)
    stage = f'<a href="{escape(stage_link)}">{escape(entry.stage)}</a>'
    causes = "".join(_cause(place, each, render) for place, each in enumerate(entry.causes, 1))
    never, avoid = listed(entry.never, ' class="dw-never"'), listed(entry.avoid)
    return (
        f'<div class="dw-entry">\n<p class="dw-entry-see">{render(entry.see)}</p>\n'
        f'<p class="dw-entry-stage">{escape(named["stage"].label)}: {stage}</p>\n'
        f"{spoken}{cautions}\n{heading('causes', ', the most likely first')}\n"
        f'<ol class="dw-causes">\n{causes}</ol>\n'
        f'<div class="dw-entry-after">\n<section>{heading("never")}{never}</section>\n'
        f"<section>{heading('avoid')}{avoid}</section>\n</div>\n"
        f'{heading("related")}\n<ul class="dw-related">{links}</ul>\n</div>'
    )


def _cause(place: int, cause: Cause, render: Renderer) -> str:
    parts = columns(Cause)
    lines = "".join(
        f'<div class="dw-cause-{part}"><dt>{escape(parts[part].label)}</dt>'
        f"<dd>{render(getattr(cause, part))}</dd></div>"
        for part in ("test", "now")
    )
    title = f'<span class="dw-cause-place">{place}</span> {render(cause.cause)}'
    return f'<li class="dw-cause"><h3>{title}</h3><dl>{lines}</dl></li>\n'
