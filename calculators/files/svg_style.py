"""What style sheets and attributes say about an element of an SVG file.

Simple style sheets are understood: selectors of one element by its name, class or id, or of several in turn. Anything
else in a style sheet is named, so that it can be reported.

Source: SVG 2, 6 (styling); CSS Syntax 3; Selectors 4, 16 (specificity); from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from calculators.files.svg_elements import Element

#: Properties that an element passes on to those in it, with their first values.
INHERITED = {
    "clip-rule": "nonzero",
    "color": "black",
    "fill": "black",
    "fill-opacity": "1",
    "fill-rule": "nonzero",
    "marker-end": "none",
    "marker-mid": "none",
    "marker-start": "none",
    "paint-order": "normal",
    "stroke": "none",
    "stroke-dasharray": "none",
    "stroke-dashoffset": "0",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "stroke-miterlimit": "4",
    "stroke-opacity": "1",
    "stroke-width": "1",
    "visibility": "visible",
}
#: Properties of one element alone, with their first values.
OWN = {
    "clip-path": "none",
    "display": "inline",
    "filter": "none",
    "mask": "none",
    "mix-blend-mode": "normal",
    "opacity": "1",
    "overflow": "",
    "transform": "",
    "vector-effect": "none",
}
_COMMENT = re.compile(r"/\*.*?\*/|<!--|-->", re.DOTALL)
_RULE = re.compile(r"\s*+([^{};]*+)\{([^{}]*+)\}")
_IMPORT = re.compile(r"\s*+(@[a-zA-Z-]++[^{};]*+);")
_SELECTOR = re.compile(r"(\*|[A-Za-z][\w-]*)?((?:[.#][A-Za-z_-][\w-]*)*)")
_IMPORTANT = re.compile(r"!\s*important\s*$")
#: Rules that change nothing that is drawn here.
_HARMLESS = ("@charset", "@font-face", "@namespace")


@dataclass(frozen=True)
class Rule:
    """What a style sheet says of the elements of a ``name``, if it has one, with all ``classes`` and ``ids``."""

    name: str
    classes: frozenset[str]
    ids: frozenset[str]
    order: int
    declarations: Mapping[str, tuple[str, bool]]

    def weight(self) -> tuple[int, int, int, int]:
        """Return by what rules overrule others: the greater wins."""
        return len(self.ids), len(self.classes), int(bool(self.name)), self.order

    def suits(self, name: str, ids: frozenset[str], classes: frozenset[str]) -> bool:
        """Return whether it speaks of an element with that name, id and classes."""
        return self.name in ("", name) and self.ids <= ids and self.classes <= classes


def declarations_of(text: str) -> dict[str, tuple[str, bool]]:
    """Return the values of properties, each with whether it is important.

    >>> declarations_of("fill: red; stroke:#000 !important")
    {'fill': ('red', False), 'stroke': ('#000', True)}
    """
    made: dict[str, tuple[str, bool]] = {}
    for each in _COMMENT.sub(" ", text).split(";"):
        name, colon, value = each.partition(":")
        if colon:
            plain = _IMPORTANT.sub("", value)
            made[name.strip().lower()] = (plain.strip(), plain != value)
    return made


def rules_of(sheets: Iterable[str]) -> tuple[list[Rule], list[str]]:
    """Return the rules of style sheets, those that overrule others last, and what in them is not understood."""
    rules: list[Rule] = []
    unknown: list[str] = []
    for sheet in sheets:
        text, at = _COMMENT.sub(" ", sheet).rstrip(), 0
        while at < len(text):
            if found := _IMPORT.match(text, at):
                if not found[1].lower().startswith(_HARMLESS):
                    unknown.append(found[1])
            elif found := _RULE.match(text, at):
                head = found[1].strip()
                if head.startswith("@"):
                    unknown += [] if head.lower().startswith(_HARMLESS) else [head]
                else:
                    _add_rules(head, declarations_of(found[2]), rules, unknown)
            else:
                unknown.append(text[at:].strip())
                break
            at = found.end()
    return sorted(rules, key=Rule.weight), unknown


def _add_rules(head: str, declarations: Mapping[str, tuple[str, bool]], rules: list[Rule], unknown: list[str]) -> None:
    known = {name for name in declarations if name in INHERITED or name in OWN}
    for selector in head.split(","):
        found = _SELECTOR.fullmatch(selector.strip())
        if not found or not found[0]:
            # A rule that says nothing about what is drawn may select whatever it likes.
            unknown += [selector.strip()] if known else []
            continue
        parts = re.findall(r"([.#])([\w-]+)", found[2])
        rules.append(
            Rule(
                (found[1] or "").removeprefix("*"),
                frozenset(name for sign, name in parts if sign == "."),
                frozenset(name for sign, name in parts if sign == "#"),
                len(rules),
                declarations,
            )
        )


def styled(element: Element, inherited: Mapping[str, str], rules: Iterable[Rule]) -> dict[str, str]:
    """Return the value of each property of ``element``, within one whose properties are ``inherited``."""
    made = {**OWN, **{name: inherited[name] for name in INHERITED}}
    important: dict[str, str] = {}
    attributes = element.attributes
    for name in made:
        if name in attributes:
            _set(made, name, attributes[name].strip(), inherited)
    about = element.name, frozenset({attributes.get("id", "")}), frozenset(attributes.get("class", "").split())
    sources = [rule.declarations for rule in rules if rule.suits(*about)]
    if "style" in attributes:
        sources.append(declarations_of(attributes["style"]))
    for declarations in sources:
        for name, (value, matters) in declarations.items():
            for each in ("marker-start", "marker-mid", "marker-end") if name == "marker" else (name,):
                if each in made:
                    _set(important if matters else made, each, value, inherited)
    return made | important


def _set(made: dict[str, str], name: str, value: str, inherited: Mapping[str, str]) -> None:
    """Set a property, if its value is not empty."""
    if value == "inherit" or (value == "unset" and name in INHERITED):
        made[name] = inherited[name]
    elif value in ("initial", "unset"):
        made[name] = INHERITED.get(name) or OWN[name]
    elif value:
        made[name] = value
