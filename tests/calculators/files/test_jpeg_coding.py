"""How a JPEG says that it was coded (ITU-T T.81), and what is not believed."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from calculators.files.jpeg_coding import coding_of
from calculators.jobs.pictures import measured
from tests.noise import noise


def jpeg() -> bytes:
    made = io.BytesIO()
    noise((64, 64), 90).convert("RGB").save(made, "JPEG", quality=75)
    return made.getvalue()


def test_tables_are_those_that_another_library_reads():
    data = jpeg()
    coding = coding_of(data)
    tables = Image.open(io.BytesIO(data)).quantization
    assert (sorted(coding.luma), sorted(coding.chroma)) == (sorted(tables[0]), sorted(tables[1]))


@pytest.mark.parametrize("place", [0, 1, 63])
def test_a_table_with_a_step_of_nothing_is_not_believed(place):
    data = bytearray(jpeg())
    data[data.index(b"\xff\xdb") + 5 + place] = 0
    assert coding_of(bytes(data)) is None
    assert measured("noise.jpg", bytes(data)).width_px == 64
