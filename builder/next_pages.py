"""What comes after a page: where its front matter says (``next:``), or the how-to
that follows it in the order of the job.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

from calculators.declare.leads import MOST_LEADS
from calculators.stages import STAGES

#: Pages without an order of their own come last in their stage.
LAST = 1000


def followers(metas: Mapping[Path, Mapping[str, Any]]) -> dict[Path, Path]:
    """Return, by how-to, the how-to that follows: by stage, then by ``order:``. The last of all is followed by none.

    ``metas`` is the front matter of pages by their path below ``content/``.
    """
    stages = list(STAGES)
    how_tos = sorted(
        (path for path, meta in metas.items() if meta.get("kind") == "how-to" and path.parts[0] in stages),
        key=lambda path: (stages.index(path.parts[0]), metas[path].get("order", LAST), path.as_posix()),
    )
    return dict(pairwise(how_tos))


def next_of(path: Path, metas: Mapping[Path, Mapping[str, Any]], titles: Mapping[str, str]) -> list[dict[str, str]]:
    """Return title and address of each page that comes after the page at ``path``.

    ``titles`` has all pages by address, calculators too. Raises ``ValueError`` where
    front matter names no page, or too many.
    """
    named: Sequence[str] = metas[path].get("next") or []
    if not named and (after := followers(metas).get(path)):
        named = [f"{after.with_suffix('').as_posix()}/"]
    if not isinstance(named, list) or len(named) > MOST_LEADS:
        raise ValueError(f"next: takes a list of one or {MOST_LEADS} addresses of pages, such as [size/scale-size/]")
    if unknown := [each for each in named if each not in titles]:
        raise ValueError(f"next: names no page: {', '.join(map(str, unknown))}. Addresses are as size/scale-size/")
    return [{"title": titles[each], "url": each} for each in named]
