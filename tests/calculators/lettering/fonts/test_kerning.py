"""Advances and kerning of fonts against HarfBuzz, ligatures and alternates off."""

import io
from itertools import accumulate, pairwise
from operator import add

import pytest
import uharfbuzz as harfbuzz
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

from calculators.lettering.fonts.font import Font
from calculators.lettering.fonts.scripts import script_tag
from calculators.lettering.fonts.served import FILES, served

from . import made

#: Words with pairs that fonts kern, numbers, and some without letters.
WORDS = """
    Rowanskerry Teasel AVATAR WAVE Tyne Wye P.A.Y. F.W. Kyle AT&T LV-7 Ty/11 To-Yo Kö Ärö Twelve Yacht Jolly 1774
    117-41 74. LTD Yes “Way” L’Aval Öl Très TOTAL Valve Waverley Fjord Rye, Vy; Types r. f, To. Ave AWAY TV Tw YA 7.1
    P.O. LT VA 12 1741 X-ray Quay QUAY Llyn Wyvern Typo
""".split()
OFF = {"liga": False, "calt": False, "clig": False}


def places(data, words):
    """Return where each glyph of a word begins, and where the word ends, by HarfBuzz in units of the font."""
    plain = TTFont(io.BytesIO(data))
    font = harfbuzz.Font(harfbuzz.Face(made.saved(plain)))
    found = []
    for word in words:
        buffer = harfbuzz.Buffer()
        buffer.add_str(word)
        buffer.guess_segment_properties()
        harfbuzz.shape(font, buffer, OFF)
        glyphs = buffer.glyph_positions
        starts = [0, *accumulate(each.x_advance for each in glyphs)]
        # Kerning of the old table is put half before and half behind a glyph.
        found.append([start + glyph.x_offset for start, glyph in zip(starts, glyphs, strict=False)] + starts[-1:])
    return found


def ours(font, words, kerned=True):
    found = []
    for word in words:
        script = script_tag(word)
        pairs = [font.kerning(*pair, script) if kerned else 0 for pair in pairwise(word)]
        found.append([0, *accumulate(map(add, map(font.advance, word), [*pairs, 0]))])
    return found


@pytest.mark.parametrize("name", FILES)
def test_advances_and_kerning_of_50_words_are_those_of_harfbuzz(name):
    assert len(WORDS) >= 50
    font = Font(name, served(name))
    found, expected = ours(font, WORDS), places(served(name), WORDS)
    assert [pytest.approx(each, abs=1) for each in expected] == found
    plain = ours(font, WORDS, kerned=False)
    assert sum(one != two for one, two in zip(found, plain, strict=True)) > 20


def with_old_table(apple):
    """Return a font with the kerning of H before X in the table kern alone."""
    font = made.opened(made.cff())
    pairs = KernTable_format_0(apple)
    pairs.coverage = 0 if apple else 1
    pairs.tupleIndex = 0 if apple else None
    pairs.kernTable = {("H", "X"): -70, ("X", "H"): 25}
    font["kern"] = table = newTable("kern")
    table.version = 1.0 if apple else 0
    table.kernTables = [pairs]
    return made.saved(font)


@pytest.mark.parametrize("apple", [False, True], ids=["OpenType", "Apple"])
def test_a_font_without_kerning_in_gpos_kerns_by_its_old_table(apple):
    data = with_old_table(apple)
    words = ["HX", "XHX", "HH", "OX"]
    assert ours(Font("a", data), words) == places(data, words)
    assert ours(Font("a", data), ["HX"]) == [[0, 530, 1130]]
