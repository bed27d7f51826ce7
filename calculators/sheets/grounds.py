"""Pictures laid on a colour."""

from __future__ import annotations

import re

from calculators.pixels.white_areas import BARE, WHITE

_PARTLY = re.compile(rb"[\x01-\xfe]")


def on_colour(rgba: bytes, meaning: bytes | None, ground: bytes) -> bytes:
    """Return RGBA pixels, alpha straight, opaque on ``ground`` (red, green, blue).

    With ``meaning``, one byte a pixel (``WhiteAreas.meaning``), what is bare is ground, whatever its colour, and wanted
    white is white.

    >>> on_colour(bytes((200, 0, 0, 128, 9, 9, 9, 0)), None, bytes((0, 0, 100))).hex()
    '640032ff000064ff'
    """
    alpha = rgba[3::4]
    bare = int.from_bytes(alpha.translate(b"\xff" + bytes(255)), "little")
    white = 0
    if meaning is not None:
        bare |= int.from_bytes(meaning.translate(bytes(255 if each == BARE else 0 for each in range(256))), "little")
        white = int.from_bytes(meaning.translate(bytes(255 if each == WHITE else 0 for each in range(256))), "little")
    made = bytearray(b"\xff" * len(rgba))
    for channel, level in enumerate(ground):
        plane = bytearray(rgba[channel::4])
        for found in _PARTLY.finditer(alpha):
            at = found.start()
            plane[at] = (plane[at] * alpha[at] + level * (255 - alpha[at]) + 127) // 255
        body = int.from_bytes(bytes([level]) * len(plane), "little")
        mixed = int.from_bytes(plane, "little") & ~bare | body & bare | white
        made[channel::4] = mixed.to_bytes(len(plane), "little")
    return bytes(made)


def without_alpha(rgba: bytes) -> bytes:
    """Return RGBA pixels as RGB."""
    made = bytearray(len(rgba) // 4 * 3)
    for channel in range(3):
        made[channel::3] = rgba[channel::4]
    return bytes(made)
