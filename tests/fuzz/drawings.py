"""Grammars of files: drawings in SVG, pictures of a few pixels, and bytes that were changed on the way."""

from __future__ import annotations

import gzip
import io
from random import Random

from PIL import Image, ImageDraw

from tests.fuzz.texts import digits, letters

COMMANDS = "MMLLHVCCZzmlhvcQSTAqsta"
FORMATS = ("PNG", "PNG", "PNG", "JPEG", "GIF", "BMP", "WEBP", "TIFF", "PPM")
MODES = ("RGB", "RGB", "RGB", "RGBA", "RGBA", "L", "P", "1", "LA", "I;16", "CMYK")


def number(chance: Random) -> str:
    """A number of path data or of an attribute."""
    if chance.random() < 0.85:
        return f"{chance.uniform(-3, 24):.{chance.randrange(4)}f}"
    return chance.choice(
        (
            "1e-300",
            "1e300",
            "1e999",
            "-0",
            "+.5",
            "1e5",
            "-1e5",
            "99999.9",
            "1e-7",
            "nan",
            "inf",
            "",
            "1.2.3",
            digits(chance),
        )
    )


def path_data(chance: Random) -> str:
    """Path data, mostly of the forms that we read."""
    takes = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Z": 0, "Q": 4, "S": 4, "T": 2, "A": 7}
    commands = ["M" + " ".join(number(chance) for _ in range(2))] if chance.random() < 0.95 else []
    for _ in range(chance.choice((0, 1, 3, 3, 8, 30))):
        command = chance.choice(COMMANDS if chance.random() < 0.1 else "LLHVCCZzMmlc")
        count = takes[command.upper()] * chance.choice((1, 1, 1, 2)) + (chance.random() < 0.02)
        commands.append(command + chance.choice((" ", ",")).join(number(chance) for _ in range(count)))
    return "".join(commands) + chance.choice(("Z", "Z", "z", "", " "))


def _length(chance: Random) -> str:
    if chance.random() < 0.75:
        return f"{chance.choice((14, 20, 20, 20, 100, 0.5))}mm"
    return f"{number(chance)}{chance.choice(('mm', 'mm', '', 'px', '%', 'in', 'cm', ' mm', 'MM'))}"


def _element(chance: Random) -> str:
    if chance.random() < 0.8:
        fill = chance.choice(("#7a2232", "#fff", "#000000", "none", "#efe4c4", f"#{chance.randrange(1 << 24):06x}"))
        odd = chance.choice(
            (
                ' fill-rule="evenodd"',
                ' stroke="none"',
                ' id="a"',
                ' style="fill:red"',
                ' transform="scale(2)"',
                ' fill="x"',
            )
        )
        return f'<path fill="{fill}"{odd if chance.random() < 0.15 else ""} d="{path_data(chance)}"/>'
    return chance.choice(
        (
            "<g>",
            "</g>",
            "<title>a</title>",
            "<desc/>",
            "<!-- a -- b -->",
            "<!---->",
            "<![CDATA[<path/>]]>",
            "&amp;",
            "&b;",
            "<text>a</text>",
            '<rect width="9" height="9"/>',
            "<style>*{}</style>",
            '<image href="a.png"/>',
            "<script>1</script>",
            "<",
            ">",
            "<path",
            "words",
            '<svg width="1mm"/>',
            '<use href="#a"/>',
            letters(chance, 20),
        )
    )


def svg(chance: Random) -> bytes:
    """A drawing, mostly of the forms that we read."""
    side = _length(chance)
    sides = (side, side) if chance.random() < 0.85 else (side, _length(chance))
    box = (
        "0 0 20 20"
        if chance.random() < 0.8
        else " ".join(number(chance) for _ in range(chance.choice((0, 3, 4, 4, 4, 5))))
    )
    head = chance.choice(
        ("", "", '<?xml version="1.0"?>', "<!DOCTYPE svg>", '<!DOCTYPE svg [<!ENTITY b "&b;&b;">]>', "\ufeff", "\n\n")
    )
    body = "".join(_element(chance) for _ in range(chance.choice((0, 1, 1, 2, 4, 12))))
    text = (
        f'{head}<svg xmlns="http://www.w3.org/2000/svg" width="{sides[0]}" height="{sides[1]}" viewBox="{box}">'
        f"{body}</svg>"
    )
    data = text.encode(chance.choice(("utf-8",) * 12 + ("utf-16", "utf-8-sig")), "replace")
    return gzip.compress(data, mtime=0) if chance.random() < 0.04 else data


def pixels(chance: Random) -> bytes:
    """A picture of few pixels: flat shapes, lines, shades or noise, in any format, upright or turned."""
    sides = (300, 480, 700) if chance.random() < 0.02 else (1, 2, 3, 7, 16, 40, 64, 64, 90, 130)
    width, height = (chance.choice(sides) for _ in range(2))
    ground = chance.choice(("#ffffff", "#ffffff", "#efe4c4", "#7a2232", "#00000000"))
    image = Image.new("RGBA", (width, height), ground)
    draw = ImageDraw.Draw(image)
    for _ in range(chance.choice((0, 1, 2, 5, 20))):
        colour = f"#{chance.choice((0x7A2232, 0x1F3B4D, 0xFFFFFF, 0xC8993A, chance.randrange(1 << 24))):06x}"
        corners = (
            sorted(chance.randrange(-5, width + 5) for _ in range(2)),
            sorted(chance.randrange(-5, height + 5) for _ in range(2)),
        )
        box = (corners[0][0], corners[1][0], corners[0][1], corners[1][1])
        match chance.randrange(4):
            case 0:
                draw.rectangle(box, fill=colour)
            case 1:
                draw.ellipse(box, fill=colour, outline="#000000")
            case 2:
                draw.line(box, fill=colour, width=chance.choice((1, 2, 5)))
            case _:
                draw.text(box[:2], chance.choice(("A", "Otter 7", "OO")), fill=colour)
    if chance.random() < 0.2:
        image.paste(Image.frombytes("RGB", image.size, chance.randbytes(3 * width * height)), (0, 0))
    if chance.random() < 0.3:
        image = image.resize(
            (width * 2, height * 2), chance.choice((Image.Resampling.BICUBIC, Image.Resampling.NEAREST))
        )
    return _saved(image, chance)


def _saved(image: Image.Image, chance: Random) -> bytes:
    file, mode, form = io.BytesIO(), chance.choice(MODES), chance.choice(FORMATS)
    made = image.convert("L").convert("I").convert("I;16") if mode == "I;16" else image.convert(mode)
    exif = Image.Exif()
    exif[0x0112] = chance.randrange(10)
    options = {"exif": exif} if form in ("JPEG", "PNG", "WEBP") and chance.random() < 0.2 else {}
    options |= {"quality": chance.randrange(1, 100)} if form in ("JPEG", "WEBP") else {}
    try:
        made.save(file, form, **options)
    except (OSError, ValueError):  # not every format holds every mode
        file = io.BytesIO()
        image.save(file, "PNG")
    return file.getvalue()


def damaged(data: bytes, chance: Random) -> bytes:
    """``data`` cut, doubled, or with some of its bytes changed."""
    made = bytearray(data)
    match chance.randrange(4):
        case 0:
            del made[chance.randrange(len(made) + 1) :]
        case 1:
            start = chance.randrange(len(made) + 1)
            made[start:start] = made[start : start + chance.randrange(200)]
        case 2:
            start = chance.randrange(len(made) + 1)
            del made[start : start + chance.randrange(20)]
        case _:
            for _ in range(chance.randrange(1, 6)):
                if made:
                    made[chance.randrange(len(made))] = chance.randrange(256)
    return bytes(made)


def file(chance: Random) -> bytes:
    """A drawing or a picture, whole or damaged, or neither."""
    made = svg(chance) if chance.random() < 0.45 else pixels(chance)
    if chance.random() < 0.2:
        made = damaged(made, chance)
    return (
        made
        if chance.random() < 0.98
        else chance.choice((b"", b"\0", b"%PDF-1.7", letters(chance, 60).encode("utf-8", "replace")))
    )
