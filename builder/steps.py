"""The steps of a how-to: its numbered list, as Markdown."""

from __future__ import annotations

import re

_STEP = re.compile(r"^\d+\. +")


def split_steps(markdown: str) -> tuple[str, list[str], str]:
    """Return the text before the steps of a page, each step without its number, and the text after.

    The steps are the lines of the page that begin with a number and a full stop, each with the lines below it
    up to a blank line that no indented line follows. Text between two steps belongs to the text after.
    """
    before: list[str] = []
    steps: list[list[str]] = []
    after: list[str] = []
    inside = False
    blank = False
    for line in markdown.splitlines(keepends=True):
        if _STEP.match(line):
            steps.append([_STEP.sub("", line)])
            inside = True
        elif inside and (not line.strip() or line.startswith(" ") or not blank):
            steps[-1].append(line)
        else:
            inside = False
            (after if steps else before).append(line)
        blank = not line.strip()
    return "".join(before), ["".join(step).rstrip() + "\n" for step in steps], "".join(after)
