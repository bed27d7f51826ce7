"""PDF pages in millimetres: placed pictures, outlines and labels at exact size.

Millimetres from the top left corner of the page, y down, become points (1/72 in) from the bottom
left when they are written, so that every number in the file can be checked. The same calls give
the same bytes: no dates, no random identifiers.

Sources, from memory: ISO 32000-1:2008 7.7.3 (pages), 8.5 (paths), 8.6.5.5 (ICCBased, DefaultRGB
8.6.5.6), 9.4 (text), 8.11 (layers), 12.2 (PrintScaling), 14.11.5 (output intents), annex D.2 (WinAnsiEncoding).
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from calculators import tables
from calculators.files.icc import srgb_profile
from calculators.files.pdf_picture import PACKING, Embedded, embedded
from calculators.files.picture import Picture
from calculators.shapes.transforms import product, scaling, translation
from calculators.units import MM_PER_INCH

if TYPE_CHECKING:
    import pydyf

POINTS_PER_MM = 72 / MM_PER_INCH
#: The standard font of labels; viewers have it or a font of the same widths, so it is not embedded.
FONT = "Helvetica"
#: One step of an outline: ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y) or ("Z",), in mm.
Step = tuple[str, *tuple[float, ...]]


class Sheet:
    """One page of ``width_mm`` x ``height_mm``. Everything drawn is in mm from its top left corner, y down."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        import pydyf

        self.width_mm, self.height_mm = width_mm, height_mm
        self._stream = pydyf.Stream(compress=False)
        self._pictures: list[Embedded] = []
        self._layers: list[str] = []

    @classmethod
    def of(cls, paper: str) -> Sheet:
        """Return an upright page of the size of a row of the table of papers. Raises KeyError."""
        row = tables.row("papers", paper)
        return cls(row.width.value, row.height.value)

    def picture(self, picture: Picture, x: float, y: float, width: float, height: float) -> None:
        """Place ``picture`` upright with its top left corner at (x, y), exactly ``width`` x ``height`` mm.

        Raises pdf_picture.NotPlaced where its pixels are needed and missing.
        """
        made = embedded(picture)
        place = product(
            translation(self._x(x), self._y(y + height)),
            scaling(width * POINTS_PER_MM, height * POINTS_PER_MM),
            made.turn,
        )
        (a, c, e), (b, d, f), _ = place
        self._stream.push_state()
        self._stream.set_matrix(*map(float, (a, b, c, d, e, f)))
        self._stream.draw_x_object(f"P{len(self._pictures)}")
        self._stream.pop_state()
        self._pictures.append(made)

    def begin_layer(self, name: str) -> None:
        """Put what is drawn until ``end_layer`` on the layer of that name, which viewers can hide."""
        if name not in self._layers:
            self._layers.append(name)
        self._stream.stream.append(b"/OC /L%d BDC" % self._layers.index(name))

    def end_layer(self) -> None:
        """End what ``begin_layer`` began."""
        self._stream.stream.append(b"EMC")

    def path(
        self,
        steps: Iterable[Step],
        *,
        fill: str | None = None,
        stroke: str | None = None,
        line_mm: float = 0.25,
        even_odd: bool = False,
    ) -> None:
        """Draw an outline: ``fill`` and ``stroke`` are #rrggbb, ``line_mm`` is the full width of the stroke.

        Strokes end square at their last point and meet in mitres.
        """
        stream = self._stream
        stream.push_state()
        if fill:
            stream.set_color_rgb(*_parts(fill))
        if stroke:
            stream.set_color_rgb(*_parts(stroke), stroke=True)
            stream.set_line_width(line_mm * POINTS_PER_MM)
        for kind, *places in steps:
            points = [self._x(part) if place % 2 == 0 else self._y(part) for place, part in enumerate(places)]
            {"M": stream.move_to, "L": stream.line_to, "C": stream.curve_to, "Z": stream.close}[kind](*points)
        if fill and stroke:
            stream.fill_and_stroke(even_odd)
        elif fill:
            stream.fill(even_odd)
        elif stroke:
            stream.stroke()
        else:
            stream.end()
        stream.pop_state()

    def rectangle(self, x: float, y: float, width: float, height: float, *, fill: str) -> None:
        """Fill a rectangle with its top left corner at (x, y)."""
        self._stream.push_state()
        self._stream.set_color_rgb(*_parts(fill))
        self._stream.rectangle(self._x(x), self._y(y + height), width * POINTS_PER_MM, height * POINTS_PER_MM)
        self._stream.fill()
        self._stream.pop_state()

    def text(
        self, words: str, x: float, y: float, *, size_mm: float = 3.0, colour: str = "#1c2226", upward: bool = False
    ) -> None:
        """Write one line that begins at (x, y) on its base line; ``upward`` turns it by a quarter to the left.

        ``size_mm`` is the size of the font; its capitals are 0.72 of that. Characters beyond those of
        Western Europe (WinAnsiEncoding) become "?".
        """
        import pydyf

        stream, along = self._stream, (0, 1, -1, 0) if upward else (1, 0, 0, 1)
        stream.push_state()
        stream.set_color_rgb(*_parts(colour))
        stream.begin_text()
        stream.set_font_size("F", size_mm * POINTS_PER_MM)
        stream.set_text_matrix(*along, self._x(x), self._y(y))
        stream.stream.append(pydyf.String(words.encode("cp1252", "replace")).data + b" Tj")
        stream.end_text()
        stream.pop_state()

    def bytes(self, title: str) -> bytes:
        """Return a PDF file of this page alone."""
        return document([self], title)

    def _x(self, mm: float) -> float:
        return float(mm * POINTS_PER_MM)

    def _y(self, mm: float) -> float:
        return float((self.height_mm - mm) * POINTS_PER_MM)


def document(sheets: Sequence[Sheet], title: str) -> bytes:
    """Return a PDF file of ``sheets``, in order, whose colours are sRGB.

    It asks viewers to print it without scaling. The same sheets and title give the same bytes.
    """
    import pydyf

    pdf = pydyf.PDF()

    def added(made: pydyf.Object) -> bytes:
        pdf.add_object(made)
        reference: bytes = made.reference
        return reference

    srgb = added(_profile(srgb_profile(), 3, "/DeviceRGB"))
    font = added(
        pydyf.Dictionary({"Type": "/Font", "Subtype": "/Type1", "BaseFont": f"/{FONT}", "Encoding": "/WinAnsiEncoding"})
    )
    layers = {
        name: added(pydyf.Dictionary({"Type": "/OCG", "Name": pydyf.String(name)}))
        for name in dict.fromkeys(name for sheet in sheets for name in sheet._layers)
    }
    for sheet in sheets:
        content = added(pydyf.Stream([_content(sheet)], compress=True))
        images = {f"P{place}": added(_image(each, added, srgb)) for place, each in enumerate(sheet._pictures)}
        size = pydyf.Array([0, 0, float(sheet.width_mm * POINTS_PER_MM), float(sheet.height_mm * POINTS_PER_MM)])
        pdf.add_page(
            pydyf.Dictionary(
                {
                    "Type": "/Page",
                    "Parent": pdf.pages.reference,
                    "MediaBox": size,
                    "Contents": content,
                    "Resources": pydyf.Dictionary(
                        {
                            "ColorSpace": pydyf.Dictionary({"DefaultRGB": pydyf.Array(["/ICCBased", srgb])}),
                            "Font": pydyf.Dictionary({"F": font}),
                            "XObject": pydyf.Dictionary(images),
                            **_properties(sheet, layers),
                        }
                    ),
                }
            )
        )
    pdf.info["Title"] = pydyf.String(title)
    if layers:
        every = pydyf.Array(layers.values())
        pdf.catalog["OCProperties"] = pydyf.Dictionary({"OCGs": every, "D": pydyf.Dictionary({"Order": every})})
    pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"PrintScaling": "/None", "DisplayDocTitle": "true"})
    pdf.catalog["OutputIntents"] = pydyf.Array(
        [
            pydyf.Dictionary(
                {
                    "Type": "/OutputIntent",
                    "S": "/GTS_PDFA1",
                    "OutputConditionIdentifier": pydyf.String("sRGB IEC61966-2.1"),
                    "DestOutputProfile": srgb,
                }
            )
        ]
    )
    file = io.BytesIO()
    pdf.write(file, version=b"1.7", identifier=True)
    return file.getvalue()


def _properties(sheet: Sheet, layers: Mapping[str, bytes]) -> dict[str, pydyf.Dictionary]:
    """Return what a page's resources say of its layers: nothing where there are none."""
    import pydyf

    names = {f"L{place}": layers[name] for place, name in enumerate(sheet._layers)}
    return {"Properties": pydyf.Dictionary(names)} if names else {}


def _content(sheet: Sheet) -> bytes:
    return b"\n".join(part if isinstance(part, bytes) else str(part).encode("ascii") for part in sheet._stream.stream)


def _profile(profile: bytes, count: int, instead: str) -> pydyf.Stream:
    import pydyf

    return pydyf.Stream([zlib.compress(profile, 9)], {"N": count, "Alternate": instead, "Filter": "/FlateDecode"})


def _image(made: Embedded, added: Callable[[pydyf.Object], bytes], srgb: bytes) -> pydyf.Stream:
    """Return the image object of a picture; its mask and profile are ``added`` on the way."""
    import pydyf

    says = {"Type": "/XObject", "Subtype": "/Image", **made.says}
    if made.profile is not None:
        count = {"/DeviceGray": 1, "/DeviceRGB": 3, "/DeviceCMYK": 4}[made.colours]
        colours = pydyf.Array(["/ICCBased", added(_profile(made.profile, count, made.colours))])
    elif made.colours == "/DeviceRGB":
        colours = pydyf.Array(["/ICCBased", srgb])
    else:
        colours = made.colours
    if made.palette is not None:
        colours = pydyf.Array(["/Indexed", colours, len(made.palette) // 3 - 1, f"<{made.palette.hex()}>"])
    says["ColorSpace"] = colours
    if made.alpha is not None:
        says["SMask"] = added(
            pydyf.Stream(
                [zlib.compress(made.alpha, PACKING)],
                {
                    "Type": "/XObject",
                    "Subtype": "/Image",
                    "Width": says["Width"],
                    "Height": says["Height"],
                    "ColorSpace": "/DeviceGray",
                    "BitsPerComponent": 8,
                    "Filter": "/FlateDecode",
                },
            )
        )
    return pydyf.Stream([made.data], says)


def _parts(colour: str) -> tuple[float, float, float]:
    """Return the parts of #rrggbb from 0 to 1."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red / 255, green / 255, blue / 255
