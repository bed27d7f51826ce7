"""What a page draws, out of its content stream: each path and picture with its points in mm on the page, y down."""

from __future__ import annotations

import io
from dataclasses import dataclass, field, replace

import pikepdf

MM = 72 / 25.4


@dataclass
class Drawn:
    """One thing: ``kind`` is the operator that painted it, or "image"; ``points`` of a picture are its corners, from
    its own top left clockwise.
    """

    kind: str
    points: list[complex]
    colour: tuple = ()
    stroke: tuple = ()
    line_mm: float = 0.0
    layer: str = ""
    state: dict = field(default_factory=dict)
    image: object = None

    @property
    def box(self) -> tuple[float, float, float, float]:
        across, down = [each.real for each in self.points], [each.imag for each in self.points]
        return min(across), min(down), max(across), max(down)


@dataclass(frozen=True)
class _Graphics:
    matrix: pikepdf.Matrix
    colour: tuple = (0.0,)
    stroke: tuple = (0.0,)
    line: float = 1.0
    states: tuple = ()


def things(data: bytes, page: int = 0) -> list[Drawn]:
    """Return all that a page draws, forms among it, in order."""
    with pikepdf.open(io.BytesIO(data)) as file:
        held = file.pages[page]
        height = float(held.MediaBox[3])
        return _Reader(height).read(held, held.Resources, _Graphics(pikepdf.Matrix()), "")


class _Reader:
    def __init__(self, height: float) -> None:
        self.height, self.made = height, []

    def read(self, stream, resources, graphics, layer) -> list[Drawn]:
        stack, points, layers = [], [], [layer]
        for operands, operator in pikepdf.parse_content_stream(stream):
            name = str(operator)
            if name == "q":
                stack.append(graphics)
            elif name == "Q":
                graphics = stack.pop()
            elif name == "cm":
                graphics = replace(graphics, matrix=pikepdf.Matrix(*map(float, operands)) @ graphics.matrix)
            elif name in ("m", "l", "c"):
                parts = list(map(float, operands))
                points += [self.place(graphics, x, y) for x, y in zip(parts[::2], parts[1::2], strict=True)]
            elif name == "re":
                x, y, width, height = map(float, operands)
                points += [
                    self.place(graphics, *at)
                    for at in ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
                ]
            elif name in ("rg", "RG"):
                key = "colour" if name == "rg" else "stroke"
                graphics = replace(graphics, **{key: tuple(round(float(each), 4) for each in operands)})
            elif name in ("cs", "CS"):
                space = resources.ColorSpace[str(operands[0])]
                graphics = replace(graphics, **{"colour" if name == "cs" else "stroke": (str(space[0]), str(space[1]))})
            elif name == "w":
                graphics = replace(graphics, line=float(operands[0]))
            elif name == "gs":
                graphics = replace(graphics, states=(*graphics.states, resources.ExtGState[str(operands[0])]))
            elif name == "BDC":
                layers.append(str(resources.Properties[str(operands[1])].Name))
            elif name == "EMC":
                layers.pop()
            elif name in ("f", "f*", "S", "B", "B*", "n"):
                if name != "n":
                    self.add(name, points, graphics, layers[-1])
                points = []
            elif name == "Do":
                self.placed(resources.XObject[str(operands[0])], graphics, layers[-1])
        return self.made

    def placed(self, thing, graphics, layer):
        if str(thing.Subtype) == "/Form":
            self.read(thing, thing.Resources, graphics, layer)
            return
        corners = [self.place(graphics, *at) for at in ((0, 1), (1, 1), (1, 0), (0, 0))]
        self.add("image", corners, graphics, layer)
        self.made[-1].image = {
            "size": (int(thing.Width), int(thing.Height)),
            "data": thing.read_raw_bytes(),
            "filter": str(thing.get("/Filter")),
            "mask": thing.SMask.read_bytes() if "/SMask" in thing else None,
            "stencil": bool(thing.get("/ImageMask", False)),
        }

    def add(self, kind, points, graphics, layer):
        states = {key: value for each in graphics.states for key, value in each.items()}
        scale = abs(graphics.matrix.a * graphics.matrix.d - graphics.matrix.b * graphics.matrix.c) ** 0.5
        self.made.append(
            Drawn(kind, points, graphics.colour, graphics.stroke, graphics.line * scale / MM, layer, states)
        )

    def place(self, graphics, x, y) -> complex:
        x, y = graphics.matrix.transform((x, y))
        return complex(x / MM, (self.height - y) / MM)
