"""PNG files, read back by Pillow to the bit."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from calculators.files.picture import read_picture
from calculators.files.png import chunks, png, png_in_steps

MODES = {1: "L", 2: "LA", 3: "RGB", 4: "RGBA"}


def stepped(width: int, height: int, samples: bytes) -> tuple[list[float], bytes]:
    """Return the reported shares of the work, and the file."""
    steps, shares = png_in_steps(width, height, samples), []
    while True:
        try:
            shares.append(next(steps).share)
        except StopIteration as stop:
            return shares, stop.value


@given(st.integers(1, 40), st.integers(1, 40), st.sampled_from([*MODES]), st.randoms(use_true_random=False))
def test_samples_come_back(width, height, count, random):
    samples = random.randbytes(width * height * count)
    image = Image.open(io.BytesIO(png(width, height, samples)))
    assert (image.size, image.mode) == ((width, height), MODES[count])
    assert image.tobytes() == samples


def test_resolution_is_noted():
    image = Image.open(io.BytesIO(png(2, 1, bytes(6), 300)))
    image.load()
    # 300 ppi are 11811.02 pixels per metre, and the file holds whole ones.
    assert image.info["dpi"] == pytest.approx((300, 300), abs=0.001)
    assert [name for name, _ in chunks(png(2, 1, bytes(6)))] == [b"IHDR", b"IDAT", b"IEND"]


def test_same_samples_give_the_same_bytes():
    assert png(20, 10, bytes(range(200))) == png(20, 10, bytes(range(200)))


@given(
    st.integers(1, 40),
    st.integers(1, 40),
    st.sampled_from([*MODES]),
    st.integers(1, 3000),
    st.randoms(use_true_random=False),
)
def test_samples_written_in_steps_come_back(width, height, count, step_bytes, random):
    samples = random.randbytes(width * height * count)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("calculators.files.png.STEP_BYTES", step_bytes)
        shares, made = stepped(width, height, samples)
    image = Image.open(io.BytesIO(made))
    assert (image.size, image.mode) == ((width, height), MODES[count])
    assert image.tobytes() == samples
    assert shares == sorted(shares) and shares[0] == 0 and shares[-1] < 1
    assert len(shares) == -(-height // max(1, step_bytes // (width * count)))


def test_a_large_picture_is_written_in_many_steps():
    shares, _ = stepped(2000, 1000, bytes(8_000_000))
    assert len(shares) >= 15


def test_picture_read_and_written_keeps_its_pixels():
    samples = bytes(range(240))
    assert read_picture("a.png", png(6, 10, samples), wanted=True).rgba == samples


@pytest.mark.parametrize(("width", "height", "count"), [(2, 2, 5), (2, 2, 0), (2, 2, 20), (3, 3, 10)])
def test_samples_that_fit_no_picture_are_refused(width, height, count):
    with pytest.raises(ValueError, match="no picture"):
        png(width, height, bytes(count))
    with pytest.raises(ValueError, match="no picture"):
        stepped(width, height, bytes(count))
