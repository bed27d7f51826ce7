"""Pictures to choose, and their position on the screen, for the tests of points and loupe."""

from __future__ import annotations

from io import BytesIO

from PIL import Image
from playwright.sync_api import CDPSession, Locator, Page

GREEN = (0, 255, 0)


def choose(page: Page, data: bytes, name: str = "panel.png", media: str = "image/png") -> None:
    page.set_input_files("#in-picture", {"name": name, "mimeType": media, "buffer": data})


def with_block(width: int, height: int, left: int, top: int, side: int, form: str = "PNG", **options) -> bytes:
    """A white picture with a green square block."""
    picture = Image.new("RGB", (width, height), "white")
    picture.paste(GREEN, (left, top, left + side, top + side))
    file = BytesIO()
    picture.save(file, form, **options)
    return file.getvalue()


def middle(locator: Locator) -> tuple[float, float]:
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def green_on(page: Page, locator: Locator) -> list[tuple[int, int]]:
    """The places on the screen, inside an element, that are green."""
    box = locator.bounding_box()
    seen = Image.open(BytesIO(page.screenshot())).convert("RGB")
    left, top = int(box["x"]), max(0, int(box["y"]))
    right, bottom = int(box["x"] + box["width"]), int(box["y"] + box["height"])
    pixels = seen.load()
    return [
        (x, y)
        for y in range(top, min(bottom, seen.height))
        for x in range(left, right)
        if pixels[x, y][0] < 60 and pixels[x, y][1] > 200 and pixels[x, y][2] < 60
    ]


def middle_of(places: list[tuple[int, int]]) -> tuple[float, float]:
    """The middle of the bounding box of the places, each a whole pixel of the screen."""
    assert places
    xs, ys = zip(*places, strict=True)
    return (min(xs) + max(xs) + 1) / 2, (min(ys) + max(ys) + 1) / 2


def touch(session: CDPSession, kind: str, *places: tuple[float, float]) -> None:
    points = [{"x": x, "y": y, "id": id} for id, (x, y) in enumerate(places)]
    session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
