"""The elements of an SVG file as a tree, within bounds, without following anything that lies outside it.

Our own small parser of XML: nothing that a file declares may grow or be fetched, and its memory is bounded by the file.
Entities are replaced if the file declares them as plain text. Elements and attributes of other namespaces, which
drawing programs have for themselves, are left out.

Source: XML 1.0, 2.4 to 2.8, 3.1, 4.1; Namespaces in XML 1.0, 3; from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from calculators import messages
from calculators.files.unread import Unread, broken

#: Maximum bytes of a file, of elements in it and of elements within each other.
MOST_BYTES, MOST_ELEMENTS, MOST_DEPTH = 16 * 1024 * 1024, 100_000, 120
#: Maximum length of what a file declares as an entity, and how often all entities are used.
MOST_OF_ENTITY, MOST_ENTITIES = 300, 10_000
SVG = "http://www.w3.org/2000/svg"
#: The name of elements of other namespaces.
FOREIGN = ":"

_NAME = r"[A-Za-z_][\w:.-]*+"
_ATTRIBUTE = re.compile(rf"""({_NAME})\s*+=\s*+(?:"([^"<]*+)"|'([^'<]*+)')""")
# No group here is possessive, since Python before 3.11.5 matches such groups wrongly. The group of attributes has a
# limit instead, because each repetition takes memory.
_TAG = re.compile(rf"""<(/?+)({_NAME})((?:\s++{_NAME}\s*+=\s*+(?:"[^"<]*+"|'[^'<]*+')){{0,999}})\s*+(/?+)>""")
_LEFT_OUT = re.compile(r"(?:<\?[^>]*+>|<!--(?s:.*?)-->)")
_DOCUMENT_TYPE = re.compile(r"<!DOCTYPE[^\[>]*+(?:\[([^\]]*+)\]\s*+)?>")
_ENTITY = re.compile(rf"""<!ENTITY\s++({_NAME})\s++(?:"([^"<&%]*+)"|'([^'<&%]*+)')\s*+>""")
_DECLARED = re.compile(r"<!ENTITY")
_LITERAL = re.compile(r"<!\[CDATA\[((?s:.*?))\]\]>")
_WORDS = re.compile(r"[^<]++")
_REFERENCE = re.compile(r"&(#x[0-9a-fA-F]{1,6}|#[0-9]{1,7}|[A-Za-z_][\w.-]*);")
_OF_XML = {"amp": "&", "lt": "<", "gt": ">", "quot": '"', "apos": "'"}


class Element:
    """An element: its name without a prefix, its attributes, the elements in it, and its text."""

    __slots__ = ("attributes", "children", "name", "text")

    def __init__(self, name: str, attributes: Mapping[str, str]) -> None:
        self.name, self.attributes = name, attributes
        self.children: list[Element] = []
        self.text = ""


def read_elements(data: bytes) -> Element:
    """Return the outermost element of an SVG file. Raises Unread.

    >>> root = read_elements(b'<svg><g id="a"><path d="M0 0"/></g></svg>')
    >>> root.children[0].attributes["id"], root.children[0].children[0].name
    ('a', 'path')
    """
    if len(data) > MOST_BYTES:
        raise Unread(messages.OUTLINES_TOO_MUCH)
    try:
        text = bytes(data).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unread(messages.OUTLINES_NOT_TEXT) from None
    return _Reading(text).root()


class _Reading:
    def __init__(self, text: str) -> None:
        self.text = text
        self.entities = dict(_OF_XML)
        self.replaced = self.count = 0
        self.inside: list[tuple[Element, str, frozenset[str]]] = []

    def root(self) -> Element:
        """Return the outermost element, with all that is in it."""
        text, at, whole = self.text, 0, len(self.text)
        root: Element | None = None
        while at < whole:
            if passed := _WORDS.match(text, at):
                at = passed.end()
                self._add_text(passed[0])
            elif passed := _LEFT_OUT.match(text, at):
                at = passed.end()
            elif passed := _LITERAL.match(text, at):
                at = passed.end()
                self._add_text(passed[1], plain=True)
            elif not root and (passed := _DOCUMENT_TYPE.match(text, at)):
                at = passed.end()
                self._declare(passed[1] or "")
            elif tag := _TAG.match(text, at):
                at = tag.end()
                if root and not self.inside and not tag[1]:
                    raise broken(tag[0])
                opened = self._tag(tag)
                root = root or opened
            else:
                raise broken(text[at : at + 40])
        if self.inside or root is None:
            raise Unread(messages.OUTLINES_CUT_SHORT if self.inside else messages.OUTLINES_NONE)
        return root

    def _declare(self, subset: str) -> None:
        found = _ENTITY.findall(subset)
        if len(found) != len(_DECLARED.findall(subset)) or any(
            len(one or other) > MOST_OF_ENTITY for _, one, other in found
        ):
            raise Unread(messages.OUTLINES_ENTITIES)
        for name, one, other in found:
            self.entities.setdefault(name, one or other)

    def _add_text(self, words: str, *, plain: bool = False) -> None:
        if self.inside and self.inside[-1][0].name in ("style", "text", "tspan", "textPath"):
            self.inside[-1][0].text += words if plain else self._replaced(words)
        elif not self.inside and words.strip():
            raise broken(words[:40])

    def _tag(self, tag: re.Match[str]) -> Element | None:
        closes, name, attribute_text, closed = tag[1], tag[2], tag[3], tag[4]
        if closes:
            if not self.inside or self.inside.pop()[1] != name:
                raise broken(tag[0])
            return None
        self.count += 1
        if self.count > MOST_ELEMENTS:
            raise Unread(messages.OUTLINES_TOO_MUCH)
        if len(self.inside) >= MOST_DEPTH:
            raise Unread(messages.OUTLINES_TOO_DEEP, most=str(MOST_DEPTH))
        attributes = {key: self._replaced(one or other) for key, one, other in _ATTRIBUTE.findall(attribute_text)}
        prefixes = self._prefixes(attributes)
        prefix, _, local = name.rpartition(":")
        element = Element(local if prefix in prefixes else FOREIGN, _known(attributes))
        if self.inside:
            self.inside[-1][0].children.append(element)
        if not closed:
            self.inside.append((element, name, prefixes))
        return element

    def _prefixes(self, attributes: Mapping[str, str]) -> frozenset[str]:
        """Return the prefixes of SVG's own names within an element; without a declaration those are none and svg."""
        known = self.inside[-1][2] if self.inside else frozenset(("", "svg"))
        for key, value in attributes.items():
            if key == "xmlns" or key.startswith("xmlns:"):
                prefix = key[6:]
                known = known | {prefix} if value == SVG else known - {prefix}
        return known

    def _replaced(self, text: str) -> str:
        if "&" not in text:
            return text
        return _REFERENCE.sub(self._reference, text)

    def _reference(self, found: re.Match[str]) -> str:
        self.replaced += 1
        if self.replaced > MOST_ENTITIES:
            raise Unread(messages.OUTLINES_ENTITIES)
        name = found[1]
        if name[0] == "#":
            number = int(name[2:], 16) if name[1] == "x" else int(name[1:])
            if not 0 < number < 0x110000:
                raise broken(found[0])
            return chr(number)
        if name not in self.entities:
            raise broken(found[0])
        return self.entities[name]


def _known(attributes: Mapping[str, str]) -> dict[str, str]:
    """Return attributes of SVG, and addresses, whose old prefix may be any."""
    made = {key: value for key, value in attributes.items() if ":" not in key}
    for key, value in attributes.items():
        if key.endswith(":href"):
            made.setdefault("href", value)
    return made
