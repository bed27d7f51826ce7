"""One pass of the library rectpack."""

from __future__ import annotations

from typing import Any

from calculators.packing.grid import Grid, Spot


def one_pass(grid: Grid) -> list[Spot]:
    """Return where maximal rectangles put the boxes, each as low as it can be, those with long short sides first.

    The library turns boxes itself. Where some must not turn, or must lie like another, it is told so box by box.
    """
    from rectpack.maxrects import MaxRectsBl

    height = grid.most if grid.most is not None else sum(max(each.width, each.height) for each in grid.boxes)
    if grid.width <= 0 or height <= 0:
        return []
    strip: Any = MaxRectsBl(grid.width, height, rot=True)
    turns: dict[int, bool] = {}
    spots = []
    others = range(grid.first, len(grid.boxes))
    for index in (*range(grid.first), *sorted(others, key=lambda index: sorted(grid.boxes[index][:2]), reverse=True)):
        box = grid.boxes[index]
        decided = turns.get(box.alike) if box.alike >= 0 else None
        # `rot` is asked at every box.
        strip.rot = box.turnable and decided is None and index >= grid.first
        across, along = (box.height, box.width) if decided and box.turnable else (box.width, box.height)
        found = strip.add_rect(across, along, rid=index)
        if found is None:
            continue
        turned = box.width != box.height and (found.width, found.height) != (box.width, box.height)
        if box.turnable and box.alike >= 0:
            turns.setdefault(box.alike, turned)
        spots.append(Spot(index, found.x, found.y, found.right, found.top, turned))
    return spots
