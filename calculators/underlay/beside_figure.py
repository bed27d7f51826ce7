"""The marking on its paints in several ways, side by side, with what goes wrong drawn on it."""

from __future__ import annotations

from binascii import b2a_base64
from collections.abc import Sequence
from math import sqrt

from calculators import messages
from calculators.declare import Figure, Scene, Scenes
from calculators.files.png import png
from calculators.markup import escape
from calculators.pixels.downscaling import worked
from calculators.pixels.raster import Raster
from calculators.shapes.border import Border, Polygon

WIDTH, GAP, WORDS = 640, 20, 24
#: As shares of the picture's width: the paint visible round it, and half of the band that marks a border.
AROUND, BAND = 0.1, 0.06
#: The most pixels of a drawn picture, and the fewest on either axis whose mean makes each of them in a large one.
MOST_PX, MEANS = 40_000, 4
#: A picture with larger proportions, width to height, stands above the next instead of beside it.
WIDE = 1.8
INK, PAPER, ACCENT = "#1c2226", "#fffefb", "#7a2232"
#: The pattern of each kind of mark. Shapes tell them apart: rings, strokes, crosses. Each is dark on light.
PATTERNS = {
    "bare": '<circle cx="6" cy="6" r="2.6" fill="#fffefb" stroke="#1c2226" stroke-width="1.4"/>',
    "lost": '<path d="M-3 3L3 -3M0 12L12 0M9 15L15 9" stroke="#fffefb" stroke-width="4.5"/>'
    '<path d="M-3 3L3 -3M0 12L12 0M9 15L15 9" stroke="#1c2226" stroke-width="2"/>',
    "border": '<path d="M2 2l8 8M10 2l-8 8" stroke="#fffefb" stroke-width="4.5"/>'
    '<path d="M2 2l8 8M10 2l-8 8" stroke="#1c2226" stroke-width="2"/>',
}


#: The place of each kind of mark: all over, on the first or the second paint only, or along the border.
CLIPS = {"bare": "all", "lost-a": "a", "lost-b": "b", "border": "band"}


def pattern_of(kind: str) -> str:
    """Return the pattern of a kind of mark.

    >>> pattern_of("lost-a"), pattern_of("bare")
    ('lost', 'bare')
    """
    return kind.partition("-")[0]


def side_by_side(scenes: Scenes, percent: float, degrees: float, name: str) -> Figure:
    """Return every scene with its border and its marks; ``name`` begins the ids in the drawing."""
    beside = 1 if scenes.width_px > WIDE * scenes.height_px else len(scenes.scenes)
    width = (WIDTH - GAP * (beside - 1)) / beside
    scale = width / (scenes.width_px * (1 + 2 * AROUND))
    border = Border(scenes.width_px, scenes.height_px, percent, degrees)
    height = scale * (scenes.height_px + 2 * AROUND * scenes.width_px)
    parts, y = [_patterns(name, _unit(scenes, scale))], 0.0
    for place in range(0, len(scenes.scenes), beside):
        row = scenes.scenes[place : place + beside]
        for across, scene in enumerate(row):
            parts.append(
                f'<g transform="translate({across * (width + GAP):.1f} {y:.1f})">'
                f"{_scene(scenes, scene, border, scale, f'{name}-{place + across}', name)}"
                f"{_label(scene.label, width, height)}</g>"
            )
        y += height + 2 * WORDS + GAP
    y += _key(parts, sorted({each for scene in scenes.scenes for each in _kinds(scene)}), y, name, _unit(scenes, scale))
    alt = _alt(scenes)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {WIDTH} '
        f'{y:.0f}" role="img">'
        f"<title>{escape(alt)}</title>{''.join(parts)}</svg>",
        alt,
    )


def _scene(scenes: Scenes, scene: Scene, border: Border, scale: float, id: str, name: str) -> str:
    around = AROUND * scenes.width_px
    box = (-around, -around, scenes.width_px + around, scenes.height_px + around)
    first, second, band = border.sides(box, BAND * scenes.width_px)
    whole = [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]
    clips = "".join(
        f'<clipPath id="{id}-{clip}"><path d="{_path(polygon, scale)}"/></clipPath>'
        for clip, polygon in (("a", first), ("b", second), ("band", band), ("all", whole))
    )
    marks = "".join(
        f'<g clip-path="url(#{id}-{CLIPS[kind]})">'
        f'<path transform="scale({_unit(scenes, scale):.4f})" d="{path}" fill="url(#{name}-{pattern_of(kind)})"/>'
        "</g>"
        for kind, path in scene.marks.items()
        if path
    )
    left = around * scale
    return (
        f'<g transform="translate({left:.1f} {left:.1f})"><defs>{clips}</defs>'
        f'<path d="{_path(first, scale)}" fill="{scenes.paints[0]}"/>'
        f'<path d="{_path(second, scale)}" fill="{scenes.paints[1]}"/>'
        f'<image x="0" y="0" width="{scenes.width_px * scale:.2f}" height="{scenes.height_px * scale:.2f}" '
        'preserveAspectRatio="none"'
        " "
        f'xlink:href="data:image/png;base64,{b2a_base64(_composed(scenes, scene, border), newline=False).decode()}"/>'
        f"{marks}"
        f'<path class="dw-ink" d="{_path(whole, scale)}" fill="none" stroke="{INK}" stroke-width="2"/></g>'
    )


def _composed(scenes: Scenes, scene: Scene, border: Border) -> bytes:
    """Return a smaller PNG of a scene, seen across the border."""
    thinned = [_thinned(Raster(each, scenes.width_px, scenes.height_px)) for each in scene.over]
    width, height = thinned[0].width, thinned[0].height
    across = Border(width, height, border.percent, border.degrees)
    first, second = (each.rgba for each in thinned)
    small = worked(Raster(across.joined(first, second, 4), width, height), MOST_PX)
    rgb = bytearray(3 * small.width * small.height)
    for channel in range(3):
        rgb[channel::3] = small.rgba[channel::4]
    return png(small.width, small.height, bytes(rgb))


def _thinned(raster: Raster) -> Raster:
    """Thin out a large picture, leaving enough pixels to draw each as the mean of four by four."""
    step = round(sqrt(raster.width * raster.height / MOST_PX) / MEANS)
    width, height = raster.width // max(step, 1), raster.height // max(step, 1)
    if step < 2 or not width or not height:
        return raster
    pixels = memoryview(raster.rgba).cast("I")
    rows = (
        pixels[row * raster.width : row * raster.width + step * width : step].tobytes()
        for row in range(0, step * height, step)
    )
    return Raster(b"".join(rows), width, height)


def _unit(scenes: Scenes, scale: float) -> float:
    """Return the length of a thousandth of the picture's width in the drawing."""
    return scenes.width_px / 1000 * scale


def _kinds(scene: Scene) -> list[str]:
    return sorted({pattern_of(kind) for kind, path in scene.marks.items() if path})


def _patterns(name: str, unit: float) -> str:
    """Return the patterns; their size in the drawing does not depend on the picture's size."""
    made = "".join(
        f'<pattern id="{name}-{kind}" width="12" height="12" patternUnits="userSpaceOnUse" '
        f'patternTransform="scale({1 / unit:.4f})">{drawn}</pattern>'
        for kind, drawn in PATTERNS.items()
    )
    return f"<defs>{made}</defs>"


def _path(polygon: Polygon, scale: float) -> str:
    if not polygon:
        return "M0 0"
    return "M" + "L".join(f"{x * scale:.1f} {y * scale:.1f}" for x, y in polygon) + "z"


def _label(words: str, width: float, height: float) -> str:
    """Return a label below a scene, on two lines if it is long."""
    lines, most = [""], int(width / 8)
    for word in words.split():
        if lines[-1] and len(lines[-1]) + len(word) >= most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return "".join(_text(0, height + WORDS * (place + 0.8), line) for place, line in enumerate(lines[:2]))


def _key(parts: list[str], kinds: Sequence[str], y: float, name: str, unit: float) -> float:
    """Add the key of the marks, and return its height."""
    x = 1.0
    for kind in kinds:
        words = messages.MARK_WORDS[kind]
        parts.append(
            f'<g transform="translate({x:.0f} {y + 2:.0f}) scale({unit:.4f})">'
            f'<rect class="dw-ink" width="{36 / unit:.1f}" height="{24 / unit:.1f}"'
            f' fill="url(#{name}-{kind})" stroke="{INK}" stroke-width="{1.5 / unit:.1f}"/></g>'
        )
        parts.append(_text(x + 46, y + 20, words))
        x += 70 + 9 * len(words)
    return 32.0 if kinds else 0.0


def _text(x: float, y: float, words: str) -> str:
    return f'<text class="dw-label" x="{x:.0f}" y="{y:.0f}" font-size="18" fill="{INK}">{escape(words)}</text>'


def _alt(scenes: Scenes) -> str:
    marked = []
    for scene in scenes.scenes:
        marks = ", ".join(messages.MARK_WORDS[kind] for kind in _kinds(scene))
        marked.append(messages.SCENE_MARKED.format(scene=scene.label, marks=marks or messages.NOTHING_MARKED))
    return messages.SIDE_BY_SIDE_ALT.format(scenes="; ".join(marked))
