"""Figures measured on web pictures, read and checked from the file that ``make corpus`` writes."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

FILE = "data/web-pictures.json"
AT_LEAST, AT_MOST, REPORTED = "at least", "at most", "reported"
SHARE, PIXELS = "%", "px"
HALVES = ("tuning", "test")
_KERNELS = {
    "nearest": "repeating pixels",
    "bilinear": "two by two (bilinear)",
    "bicubic": "four by four (bicubic)",
    "lanczos": "Lanczos",
}


def _is_count(value: Any) -> bool:
    return isinstance(value, int | float) and value >= 0


def _is_date(value: Any) -> bool:
    try:
        return bool(date.fromisoformat(value))
    except (TypeError, ValueError):
        return False


_RUN: Mapping[str, Callable[[Any], bool]] = {
    "measured": _is_date,
    "half": lambda value: value in HALVES,
    "pictures": lambda value: _is_count(value) and value > 0,
    "in_all": _is_count,
    "without": lambda value: isinstance(value, list),
    "figures": lambda value: isinstance(value, list) and bool(value),
    "detail_by_way": lambda value: isinstance(value, list),
}
_FIGURE: Mapping[str, Callable[[Any], bool]] = {
    "group": lambda value: isinstance(value, str),
    "name": lambda value: isinstance(value, str) and bool(value),
    "kind": lambda value: value in (AT_LEAST, AT_MOST, REPORTED),
    "unit": lambda value: value in (SHARE, PIXELS),
    "aim": lambda value: value is None or _is_count(value),
    "reached": lambda value: value is None or _is_count(value),
    "of": _is_count,
}
_WAY: Mapping[str, Callable[[Any], bool]] = {
    "quality": _is_count,
    "kernel": lambda value: value in _KERNELS,
    "factor": lambda value: _is_count(value) and value > 1,
    "told": _is_count,
    "of": lambda value: _is_count(value) and value > 0,
}


@dataclass(frozen=True)
class WebPictures:
    """A run over the web pictures: ``run`` is what the file holds."""

    run: Mapping[str, Any]

    def table(self, group: str) -> str:
        """Return the figures of a group as a table in Markdown. Raises ``ValueError`` where there is no such group."""
        rows = [each for each in self.run["figures"] if each["group"] == group]
        if not rows:
            groups = dict.fromkeys(each["group"] for each in self.run["figures"])
            raise ValueError(f"There are no figures of {group}. Groups are {', '.join(groups)}")
        lines = ["| What | Aim | Reached | Of |", "|---|---|---|---:|"]
        return "\n".join([*lines, *map(_row, rows)])

    def ways(self, quality: int) -> str:
        """Return how often true detail was found after saving at ``quality`` (0: lossless); rows are methods, columns
        factors.
        """
        found = {
            (each["kernel"], each["factor"]): each for each in self.run["detail_by_way"] if each["quality"] == quality
        }
        factors = sorted({factor for _kernel, factor in found})
        if not factors:
            return "This run has no such pictures."
        lines = [f"| Method |{''.join(f' {factor:g} times |' for factor in factors)}", f"|---|{'---:|' * len(factors)}"]
        for kernel, name in _KERNELS.items():
            cells = [found.get((kernel, factor)) for factor in factors]
            lines.append(
                f"| {name} |" + "".join(f" {each['told']} of {each['of']} |" if each else " |" for each in cells)
            )
        return "\n".join(lines)


def _row(each: Mapping[str, Any]) -> str:
    name = each["name"].removeprefix("- ")
    # A line that details the one above it.
    name = f"{name[:1].upper()}{name[1:]}" if name == each["name"] else f"… {name}"
    aim = "" if each["aim"] is None else f"{each['kind']} {_rounded(each['aim'], each['unit'], 0)}"
    if each["reached"] is None:
        return f"| {name} | {aim} | not in this run | |"
    misses = {
        AT_LEAST: each["aim"] is not None and each["reached"] < each["aim"],
        AT_MOST: each["aim"] is not None and each["reached"] > each["aim"],
    }
    short = ", **missed**" if misses.get(each["kind"]) else ""
    return f"| {name} | {aim} | {_rounded(each['reached'], each['unit'], 1)}{short} | {each['of']:.0f} |"


def _rounded(value: float, unit: str, decimals: int) -> str:
    return f"{100 * value:.{decimals}f} %" if unit == SHARE else f"{value:.2f} px"


def read(root: Path) -> WebPictures:
    """Return the last run that was written. Raises ``ValueError`` that names what is wrong in the file."""
    try:
        run = json.loads((root / FILE).read_text("utf-8"))
    except json.JSONDecodeError as error:
        raise ValueError(f"{FILE}:{error.lineno}: {error.msg}. Run make corpus to write it anew") from None
    _check(run, _RUN, FILE)
    for key, parts in (("figures", _FIGURE), ("detail_by_way", _WAY)):
        for place, each in enumerate(run[key]):
            _check(each, parts, f"{FILE}: {key}[{place}]")
            if each.get("unit") == SHARE and max(each["aim"] or 0, each["reached"] or 0) > 1:
                raise ValueError(f"{FILE}: {key}[{place}]: it is more than all. Run make corpus to write it anew")
    if run["pictures"] > run["in_all"]:
        raise ValueError(f"{FILE}: it tells of more pictures than there are. Run make corpus to write it anew")
    return WebPictures(run)


def _check(record: Any, parts: Mapping[str, Callable[[Any], bool]], where: str) -> None:
    wrong = [
        name
        for name, is_right in parts.items()
        if not isinstance(record, dict) or name not in record or not is_right(record[name])
    ]
    if wrong:
        raise ValueError(f"{where}: {', '.join(wrong)} missing or out of range. Run make corpus to write it anew")
