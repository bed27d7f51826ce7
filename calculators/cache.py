"""A cache of results from pictures, so that changing another input does not repeat the analysis.

All calculators share one cache. Its key is the digest of the picture's file and the operation with its parameters.
All entries together stay within ``MOST_BYTES``; the least recently used are dropped first. WebAssembly's memory never
shrinks, so the cache adds to the peak of any calculator.
"""

from __future__ import annotations

import sys
from array import array
from collections import OrderedDict
from collections.abc import Callable, Generator, Hashable
from typing import Any, TypeVar

#: All entries together, in bytes: the colours and white areas of a picture of 4 megapixels, twice over.
MOST_BYTES = 48 * 1024 * 1024
#: Longer sequences are estimated from this many members.
MEASURED = 200

Operation = tuple[Hashable, ...]
_Made = TypeVar("_Made")
_Step = TypeVar("_Step")


class Cache:
    """Values by picture and operation, within a limit of bytes. Callers must not change the values."""

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self.most_bytes = most_bytes
        self._entries: OrderedDict[tuple[str, Operation], tuple[Any, int]] = OrderedDict()

    @property
    def held_bytes(self) -> int:
        """The size of all entries, by ``size_bytes``."""
        return sum(size for _value, size in self._entries.values())

    def clear(self) -> None:
        """Forget everything."""
        self._entries.clear()

    def remembered(self, source: str, operation: Operation, make: Callable[[], _Made]) -> _Made:
        """Return the cached result of ``operation`` on the picture with digest ``source``, or call ``make`` and store
        it.

        Without a ``source`` nothing is stored.
        """
        found = self._found(source, operation)
        return found[0] if found else self._keep(source, operation, make())

    def worked_out(
        self, source: str, operation: Operation, make: Callable[[], Generator[_Step, None, _Made]]
    ) -> Generator[_Step, None, _Made]:
        """Do the same for long work, passing on its steps. Interrupted work stores nothing."""
        found = self._found(source, operation)
        return found[0] if found else self._keep(source, operation, (yield from make()))

    def _found(self, source: str, operation: Operation) -> tuple[Any, int] | None:
        if found := self._entries.get((source, operation)):
            self._entries.move_to_end((source, operation))
        return found

    def _keep(self, source: str, operation: Operation, value: _Made) -> _Made:
        size = size_bytes(value)
        if source and size <= self.most_bytes:
            self._entries[source, operation] = value, size
            while self.held_bytes > self.most_bytes:
                self._entries.popitem(last=False)
        return value


def size_bytes(value: Any) -> int:
    """Return about how many bytes ``value`` and everything in it take; shared objects count once.

    >>> size_bytes((bytes(1000), bytes(2000))) // 1000
    3
    """
    return round(_size(value, set()))


def _size(value: Any, seen: set[int]) -> float:
    if id(value) in seen:
        return 0
    seen.add(id(value))
    size = sys.getsizeof(value)
    if value is None or isinstance(value, (str, bytes, bytearray, int, float, complex, array, type)):
        return size
    if isinstance(value, dict):
        return size + _size(list(value.keys()), seen) + _size(list(value.values()), seen)
    if isinstance(value, (list, tuple, set, frozenset)):
        members = list(value)[:MEASURED]
        measured = sum(_size(each, seen) for each in members)
        return size + measured * (len(value) / len(members) if members else 0)
    held = [
        getattr(value, name)
        for each in type(value).__mro__
        for name in getattr(each, "__slots__", ())
        if hasattr(value, name)
    ]
    return size + _size([*held, *getattr(value, "__dict__", {}).values()], seen)


#: The one that all calculators use.
PICTURES = Cache()
