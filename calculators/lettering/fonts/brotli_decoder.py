"""Unpacks Brotli: by what the page has loaded for a WOFF2 file, or by the library brotli on the command line."""

from __future__ import annotations

from typing import Any


class NoDecoder(ValueError):
    """No decoder is here."""


def unbrotli(data: bytes, size: int) -> bytes:
    """Return the unpacked ``data``, of which no more than a little over ``size`` bytes are ever made.

    Raises NoDecoder, or whatever a decoder raises for a damaged stream.
    """
    try:
        # theme/worker/brotli.mjs is it.
        import page_brotli
    except ImportError:
        return _by_library(data, size)
    made: bytes = page_brotli.unpacked(data, size).to_bytes()
    return made


def _by_library(data: bytes, size: int) -> bytes:
    try:
        import brotli
    except ImportError:
        raise NoDecoder from None
    decoder: Any = brotli.Decompressor()
    made: bytes = decoder.process(data, output_buffer_limit=size + 1)
    while len(made) <= size and not decoder.is_finished():
        more: bytes = decoder.process(b"", output_buffer_limit=size + 1 - len(made))
        if not more:
            break
        made += more
    return made
