"""Drawings in SVG as librsvg draws them, called as a library: the pixels that rsvg-convert writes.

A process for each drawing, and pixels packed as PNG and unpacked, take ten times as long as drawing does.
"""

from __future__ import annotations

import ctypes
from functools import cache

import cairocffi
import numpy

from tests.tools import without


class _Box(ctypes.Structure):
    """RsvgRectangle: where the drawing goes on the surface, in pixels."""

    _fields_ = [(name, ctypes.c_double) for name in ("x", "y", "width", "height")]


@cache
def _libraries() -> tuple[ctypes.CDLL, ctypes.CDLL]:
    """Return librsvg and GObject. Skips without them; fails in CI."""
    try:
        rsvg, gobject = ctypes.CDLL("librsvg-2.so.2"), ctypes.CDLL("libgobject-2.0.so.0")
    except OSError:
        without(
            "librsvg is not installed. On Debian, make setup installs it for root; else: apt-get install librsvg2-bin"
        )
    rsvg.rsvg_handle_new_from_data.argtypes = [ctypes.c_char_p, ctypes.c_size_t, ctypes.c_void_p]
    rsvg.rsvg_handle_new_from_data.restype = ctypes.c_void_p
    rsvg.rsvg_handle_set_dpi.argtypes = [ctypes.c_void_p, ctypes.c_double]
    rsvg.rsvg_handle_render_document.argtypes = [*[ctypes.c_void_p] * 2, ctypes.POINTER(_Box), ctypes.c_void_p]
    gobject.g_object_unref.argtypes = [ctypes.c_void_p]
    return rsvg, gobject


def drawn(svg: str, width: int, height: int) -> numpy.ndarray:
    """Return ``height`` x ``width`` x 4 levels, RGBA, alpha straight. Raises ValueError for what it cannot read."""
    rsvg, gobject = _libraries()
    data = svg.encode()
    handle = rsvg.rsvg_handle_new_from_data(data, len(data), None)
    if not handle:
        raise ValueError("librsvg cannot read this drawing")
    surface = cairocffi.ImageSurface(cairocffi.FORMAT_ARGB32, width, height)
    context = cairocffi.Context(surface)
    address = int(cairocffi.ffi.cast("uintptr_t", context._pointer))
    rsvg.rsvg_handle_set_dpi(handle, 96.0)
    is_drawn = rsvg.rsvg_handle_render_document(handle, address, ctypes.byref(_Box(0, 0, width, height)), None)
    gobject.g_object_unref(handle)
    if not is_drawn:
        raise ValueError("librsvg cannot draw this drawing")
    surface.flush()
    stored = numpy.frombuffer(surface.get_data(), "u1").reshape(height, width, 4)
    return _straight(numpy.ascontiguousarray(stored[..., [2, 1, 0, 3]]))


def _straight(pixels: numpy.ndarray) -> numpy.ndarray:
    """Divide colours by their alpha, rounded as in the PNG files of cairo."""
    partial = (pixels[..., 3] > 0) & (pixels[..., 3] < 255)
    colours, alpha = pixels[partial][:, :3].astype(int), pixels[partial][:, 3:].astype(int)
    pixels[partial, :3] = (colours * 255 + alpha // 2) // alpha
    return pixels
