"""PDF files of pages drawn on canvases. The same pages give the same bytes: no dates, no random identifiers.

Every object is written as soon as it is known, so that a large file is in memory once.

Sources, from memory: ISO 32000-1:2008 7.5 (file structure), 7.7.3 (pages), 7.10.3 (exponential functions), 8.4.5
(graphics state), 8.6.5.5 (ICCBased, DefaultRGB 8.6.5.6), 8.6.6.4 (Separation), 8.10.2 (forms), 8.11.4 (layers), 12.2
(PrintScaling), 14.11.5 (output intents).
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Sequence
from hashlib import md5
from typing import TYPE_CHECKING

from calculators.files.icc import srgb_profile
from calculators.files.pdf_canvas import POINTS_PER_MM, Canvas, Form, Layer, Spot, State, parts_of
from calculators.files.pdf_picture import Embedded

if TYPE_CHECKING:
    import pydyf

#: The standard font of labels; viewers have it or a font of the same widths, so it is not embedded.
FONT = "Helvetica"
#: A name of a spot colour keeps these characters; all others are written as their bytes (7.3.5).
_PLAIN = frozenset(b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.+")


def document(sheets: Sequence[Canvas], title: str) -> bytes:
    """Return a PDF file of ``sheets``, in order, whose colours are sRGB.

    It asks viewers to print it without scaling. The same sheets and title give the same bytes.
    """
    return _Document(title).written(sheets)


class _Document:
    """A file that is written object by object."""

    def __init__(self, title: str) -> None:
        import pydyf

        self._file, self._places = io.BytesIO(), [0]
        self._file.write(b"%PDF-1.7\n%\xf0\x9f\x96\xa4\n")
        self._title = title
        self._pages = pydyf.Dictionary({"Type": "/Pages", "Kids": pydyf.Array([]), "Count": 0})
        self._pages_number = self._number()
        self._layers: dict[Layer, bytes] = {}
        self._spots: dict[Spot, bytes] = {}
        self._forms: dict[int, bytes] = {}
        self._images: dict[int, bytes] = {}
        self._srgb = self._add(_profile(srgb_profile(), 3, "/DeviceRGB"))
        self._font = self._add(
            pydyf.Dictionary(
                {"Type": "/Font", "Subtype": "/Type1", "BaseFont": f"/{FONT}", "Encoding": "/WinAnsiEncoding"}
            )
        )

    def written(self, sheets: Sequence[Canvas]) -> bytes:
        """Return the file of these pages."""
        import pydyf

        for sheet in sheets:
            content = self._add(pydyf.Stream([sheet.content()], compress=True))
            size = pydyf.Array([0, 0, float(sheet.width_mm * POINTS_PER_MM), float(sheet.height_mm * POINTS_PER_MM)])
            page = {
                "Type": "/Page",
                "Parent": f"{self._pages_number} 0 R",
                "MediaBox": size,
                "Contents": content,
                "Resources": self._resources(sheet),
            }
            self._pages["Kids"].append(self._add(pydyf.Dictionary(page)))
            self._pages["Count"] += 1
        self._add(self._pages, self._pages_number)
        catalog = self._add(self._catalog())
        info = self._add(pydyf.Dictionary({"Title": pydyf.String(self._title)}))
        return self._ended(catalog, info)

    # -- What a page or a form needs

    def _resources(self, canvas: Canvas) -> pydyf.Dictionary:
        import pydyf

        things = {f"P{place}": self._image(each) for place, each in enumerate(canvas.pictures)}
        things |= {f"F{place}": self._form(each) for place, each in enumerate(canvas.forms)}
        spaces: dict[str, object] = {"DefaultRGB": pydyf.Array(["/ICCBased", self._srgb])}
        spaces |= {f"S{place}": self._spot(each) for place, each in enumerate(canvas.spots)}
        made: dict[str, object] = {
            "ColorSpace": pydyf.Dictionary(spaces),
            "Font": pydyf.Dictionary({"F": self._font}),
            "XObject": pydyf.Dictionary(things),
        }
        if canvas.layers:
            layers = {f"L{place}": self._layer(each) for place, each in enumerate(canvas.layers)}
            made["Properties"] = pydyf.Dictionary(layers)
        if canvas.states:
            states = {f"G{place}": _state(each) for place, each in enumerate(canvas.states)}
            made["ExtGState"] = pydyf.Dictionary(states)
        return pydyf.Dictionary(made)

    def _form(self, form: Form) -> bytes:
        """Return the reference of a form, which is written once however often it is placed."""
        import pydyf

        if id(form) not in self._forms:
            says: dict[str, object] = {
                "Type": "/XObject",
                "Subtype": "/Form",
                "BBox": pydyf.Array(form.box),
                "Resources": self._resources(form),
            }
            if form.whole:
                says["Group"] = "<</Type /Group /S /Transparency /I true>>"
            self._forms[id(form)] = self._add(pydyf.Stream([form.content()], says, compress=True))
        return self._forms[id(form)]

    def _layer(self, layer: Layer) -> bytes:
        import pydyf

        if layer not in self._layers:
            self._layers[layer] = self._add(pydyf.Dictionary({"Type": "/OCG", "Name": pydyf.String(layer.name)}))
        return self._layers[layer]

    def _spot(self, spot: Spot) -> bytes:
        """Return the reference of a colour space with one plate, shown as a mix with white."""
        import pydyf

        if spot not in self._spots:
            whole = pydyf.Array(list(parts_of(spot.shown)))
            tint = {"FunctionType": 2, "Domain": "[0 1]", "C0": "[1 1 1]", "C1": whole, "N": 1}
            space = pydyf.Array(["/Separation", escaped_name(spot.name), "/DeviceRGB", pydyf.Dictionary(tint)])
            self._spots[spot] = self._add(space)
        return self._spots[spot]

    def _image(self, made: Embedded) -> bytes:
        """Return the reference of a picture, which is written once; its mask and profile are written before it."""
        import pydyf

        if id(made) in self._images:
            return self._images[id(made)]
        says = {"Type": "/XObject", "Subtype": "/Image", **made.says}
        if made.colours:
            says["ColorSpace"] = self._colours(made)
        if made.alpha is not None:
            mask = {key: says[key] for key in ("Type", "Subtype", "Width", "Height")}
            mask |= {"ColorSpace": "/DeviceGray", "BitsPerComponent": 8, "Filter": "/FlateDecode"}
            says["SMask"] = self._add(pydyf.Stream([made.alpha], mask))
        self._images[id(made)] = self._add(pydyf.Stream([made.data], says))
        return self._images[id(made)]

    def _colours(self, made: Embedded) -> object:
        import pydyf

        colours: object = made.colours
        if made.profile is not None:
            count = {"/DeviceGray": 1, "/DeviceRGB": 3, "/DeviceCMYK": 4}[made.colours]
            colours = pydyf.Array(["/ICCBased", self._add(_profile(made.profile, count, made.colours))])
        elif made.colours == "/DeviceRGB":
            colours = pydyf.Array(["/ICCBased", self._srgb])
        if made.palette is not None:
            return pydyf.Array(["/Indexed", colours, len(made.palette) // 3 - 1, f"<{made.palette.hex()}>"])
        return colours

    # -- The file

    def _catalog(self) -> pydyf.Dictionary:
        import pydyf

        intent = {
            "Type": "/OutputIntent",
            "S": "/GTS_PDFA1",
            "OutputConditionIdentifier": pydyf.String("sRGB IEC61966-2.1"),
            "DestOutputProfile": self._srgb,
        }
        catalog = {
            "Type": "/Catalog",
            "Pages": f"{self._pages_number} 0 R",
            "ViewerPreferences": pydyf.Dictionary({"PrintScaling": "/None", "DisplayDocTitle": "true"}),
            "OutputIntents": pydyf.Array([pydyf.Dictionary(intent)]),
        }
        if self._layers:
            every = pydyf.Array(self._layers.values())
            hidden = pydyf.Array([number for layer, number in self._layers.items() if layer.hidden])
            default = {"Order": every, **({"OFF": hidden} if hidden else {})}
            catalog["OCProperties"] = pydyf.Dictionary({"OCGs": every, "D": pydyf.Dictionary(default)})
        return pydyf.Dictionary(catalog)

    def _number(self) -> int:
        """Return the number of an object that is written later."""
        self._places.append(0)
        return len(self._places) - 1

    def _add(self, made: pydyf.Object, number: int | None = None) -> bytes:
        """Write an object and return its reference."""
        made.number = self._number() if number is None else number
        self._places[made.number] = self._file.tell()
        self._file.write(made.indirect + b"\n")
        reference: bytes = made.reference
        return reference

    def _ended(self, catalog: bytes, info: bytes) -> bytes:
        """Return the file with its table of places and its trailer."""
        import pydyf

        file, place = self._file, self._file.tell()
        digest = md5(file.getbuffer(), usedforsecurity=False).hexdigest()
        count = len(self._places)
        file.write(f"xref\n0 {count}\n0000000000 65535 f \n".encode())
        file.writelines(f"{each:010} 00000 n \n".encode() for each in self._places[1:])
        trailer = pydyf.Dictionary(
            {"Size": count, "Root": catalog, "Info": info, "ID": f"[<{digest}> <{digest}>]"},
        )
        file.write(b"trailer\n" + trailer.data + b"\n")
        file.write(f"startxref\n{place}\n%%EOF\n".encode())
        return file.getvalue()


def escaped_name(text: str) -> str:
    """Return a text as a name object.

    >>> escaped_name("White (2)")
    '/White#20#282#29'
    """
    return "/" + "".join(chr(each) if each in _PLAIN else f"#{each:02x}" for each in text.encode())


def _state(state: State) -> pydyf.Dictionary:
    import pydyf

    if state.overprint:
        return pydyf.Dictionary({"Type": "/ExtGState", "OP": "true", "op": "true", "OPM": 1})
    return pydyf.Dictionary({"Type": "/ExtGState", "CA": state.opacity, "ca": state.opacity})


def _profile(profile: bytes, count: int, instead: str) -> pydyf.Stream:
    import pydyf

    return pydyf.Stream([zlib.compress(profile, 9)], {"N": count, "Alternate": instead, "Filter": "/FlateDecode"})
