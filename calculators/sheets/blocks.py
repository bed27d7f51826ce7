"""Blocks of pieces that stay together: the members of a set side by side, all the same way round."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calculators.packing import Box, Placed, pack
from calculators.sheets.model import Item, Placement


@dataclass(frozen=True)
class Block:
    """Pieces in a rectangle of ``size`` mm: item, copy, and the corner of its whole piece in the block.

    ``turnable``: the whole of it may lie turned by a quarter. ``lies_turned``: its pieces lie turned in it already.
    Blocks that are ``alike`` lie the same way round.
    """

    pieces: tuple[tuple[Item, int, complex], ...]
    size: complex
    turnable: bool
    alike: str
    lies_turned: bool = False

    def box(self, id: str) -> Box:
        """Return it as a box to pack."""
        return Box(id, self.size.real, self.size.imag, self.turnable, self.alike)

    def decided(self, turned: bool) -> Block:
        """Return the block that lies the one way or the other and does not turn any more."""
        if not turned:
            return replace(self, turnable=False)
        pieces = []
        for item, copy, at in self.pieces:
            # A quarter to the left: what was at the right is at the top.
            pieces.append((item, copy, complex(at.imag, self.size.real - at.real - item.footprint.real)))
        return Block(tuple(pieces), complex(self.size.imag, self.size.real), False, self.alike, True)

    def placements(self, corner: complex, *, turned: bool) -> list[Placement]:
        """Return its pieces on a sheet, with the top left of the block, as it lies, at ``corner``."""
        lying = self.decided(turned)
        found = []
        for item, copy, at in lying.pieces:
            left, top, right, _ = item.around
            inset = complex(top, right) if lying.lies_turned else complex(left, top)
            found.append(Placement(item, copy, corner + at + inset, lying.lies_turned))
        return found


def blocks_of(items: Sequence[Item], room: complex, gap: float) -> tuple[list[Block], list[Item]]:
    """Return the blocks of all pieces on one film, and the items that do not fit into ``room`` whichever way they lie.

    A block has one copy of each member of a set. Members of a set that is too large to lie together are blocks of
    their own, still alike.
    """
    large = [each for each in items if not _fits(each, room)]
    sets: dict[str, list[Item]] = {}
    for item in items:
        if _fits(item, room):
            sets.setdefault(item.set_id or f"\n{item.id}", []).append(item)
    blocks = []
    for name, members in sets.items():
        turnable, lies_turned = not any(each.fixed_turn for each in members), _lie_turned(members, room)
        for copy in range(1, max(each.pieces for each in members) + 1):
            together = [each for each in members if each.pieces >= copy]
            single = [_alone(each, copy, name, turnable, lies_turned) for each in together]
            block = _together(single, room, gap)
            blocks += [block] if block else single
    return blocks, large


def _fits(item: Item, room: complex) -> bool:
    """Return whether a piece fits, turned or not; a set that must lie as drawn is turned as a whole if it has to be."""
    sides, least = sorted((item.footprint.real, item.footprint.imag)), sorted((room.real, room.imag))
    return sides[0] <= least[0] + 1e-9 and sides[1] <= least[1] + 1e-9


def _lie_turned(members: Sequence[Item], room: complex) -> bool:
    """Return whether a set that must lie as drawn has to be turned to fit: as long as all of it is, its parts meet."""
    if not any(each.fixed_turn for each in members):
        return False
    return any(each.footprint.real > room.real + 1e-9 or each.footprint.imag > room.imag + 1e-9 for each in members)


def _alone(item: Item, copy: int, name: str, turnable: bool, lies_turned: bool) -> Block:
    size = complex(item.footprint.imag, item.footprint.real) if lies_turned else item.footprint
    return Block(((item, copy, 0j),), size, turnable, name, lies_turned)


def _together(single: Sequence[Block], room: complex, gap: float) -> Block | None:
    """Return the members of a set in the most compact of a few blocks; None where no block fits into the room."""
    if len(single) == 1:
        return single[0]
    boxes = [Box(str(at), each.size.real, each.size.imag, turnable=False) for at, each in enumerate(single)]
    row = sum(each.width + gap for each in boxes) - gap
    widest = max(each.width for each in boxes)
    area = sum((each.width + gap) * (each.height + gap) for each in boxes)
    best: Block | None = None
    for width in sorted(
        {min(each, room.real) for each in (row, row / 2, widest, 1.2 * math.sqrt(area)) if each >= widest}
    ):
        placed = pack(boxes, width, gap=gap)
        size = _bounds(placed)
        if len(placed) < len(boxes) or size.imag > room.imag:
            continue
        if best is None or size.real * size.imag < best.size.real * best.size.imag:
            pieces = tuple((*single[int(each.box.id)].pieces[0][:2], complex(each.x, each.y)) for each in placed)
            best = replace(single[0], pieces=pieces, size=size)
    return best


def _bounds(placed: Sequence[Placed]) -> complex:
    return complex(
        max((each.x + each.width for each in placed), default=0.0),
        max((each.y + each.height for each in placed), default=0.0),
    )
