"""Font files that no reader should open: refused at once, in words. The others are among the hostile files."""

import sys
import tracemalloc

import pytest

from calculators.lettering.fonts.container import Unreadable
from calculators.lettering.fonts.font import Font

from . import made


def test_a_vast_file_is_refused_before_anything_is_read():
    data = b"\0\1\0\0" + bytes(100 << 20)
    tracemalloc.start()
    with pytest.raises(Unreadable, match=r"vast.ttf has 100 MB, and a font file may have at most 24"):
        Font("vast.ttf", data)
    assert tracemalloc.get_traced_memory()[1] < 1 << 20
    tracemalloc.stop()


def test_a_woff2_file_without_a_decoder_says_what_to_do(monkeypatch):
    monkeypatch.setitem(sys.modules, "brotli", None)
    with pytest.raises(Unreadable) as refused:
        Font("a.woff2", made.truetype("woff2"))
    assert "WOFF2" in refused.value.text and "TTF, OTF or WOFF" in refused.value.hint
