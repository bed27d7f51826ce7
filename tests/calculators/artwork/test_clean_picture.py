"""Taking a marking out of its picture: pictures drawn with a known marking, held against Pillow and scikit-image."""

import io
import json

import numpy
import pytest
import skimage
from PIL import Image, ImageDraw
from skimage.segmentation import flood

from calculators import messages
from calculators.answer import answer
from calculators.artwork import clean_picture
from calculators.artwork.clean_picture import CALCULATOR, CleanPictureInputs
from calculators.files.picture import read_picture
from calculators.pixels.cleaning import flooded, marking_box
from calculators.pixels.downscaling import worked
from calculators.pixels.fidelity import Losses
from calculators.pixels.flat_colours import flat_colours
from calculators.pixels.lost_parts import Place
from tests.calculators.artwork.test_picture_check import saved
from tests.calculators.pixels.test_fidelity import lettering, rgba_of
from tests.calculators.pixels.test_flat_colours import DEMO, GREY, MAROON, finished, raster

SAMPLES = skimage.__path__[0] + "/data"


def asked(
    image: Image.Image | None = None, changes: list | None = None, **inputs: str
) -> tuple[dict, Image.Image | None]:
    files = {"picture": {"name": "marking.png", "bytes": 0}} if image else {}
    typed = inputs | ({"changes": changes} if changes else {})
    envelope = {"do": "answer", "calculator": "clean-picture", "inputs": typed, "files": files}
    *_, (text, buffers) = answer(json.dumps(envelope), [saved(image, "PNG")] if image else [])
    reply = json.loads(text)
    return reply, Image.open(io.BytesIO(buffers[0])).convert("RGBA") if buffers else None


def art(colour_of_disc: str = MAROON, times: int = 8) -> tuple[Image.Image, Image.Image]:
    """Return a disc with a hole and a bar on nothing, smoothed by exact coverage; the same on white card."""
    large = Image.new("RGBA", (160 * times, 120 * times))
    pen = ImageDraw.Draw(large)
    pen.ellipse([each * times for each in (20.4, 20.3, 90.4, 90.3)], fill=colour_of_disc)
    pen.ellipse([each * times for each in (40, 40, 70, 70)], fill=(0, 0, 0, 0))
    pen.rectangle([each * times for each in (100, 30, 140, 90)], fill=GREY)
    alone = large.reduce(times)
    card = Image.new("RGBA", alone.size, "#ffffff")
    card.alpha_composite(alone)
    return alone, card


def test_the_marking_equals_the_original_artwork():
    """Put back on black, it is what the drawing is on black; a pixel covered by less than an eighth may be lost."""
    alone, card = art()
    reply, got = asked(card, crop="no", background="everywhere")
    assert reply["result"]["verdict"] == "clean"
    assert reply["result"]["background"] == "#ffffff"
    assert got.size == card.size
    alpha = [numpy.asarray(each.getchannel("A"), int) for each in (alone, got)]
    assert numpy.abs(alpha[0] - alpha[1]).max() <= 32
    assert alpha[1].sum() == pytest.approx(alpha[0].sum(), rel=0.005)
    on_black = [Image.new("RGBA", alone.size, "#000000") for _ in range(2)]
    for ground, each in zip(on_black, (alone, got), strict=True):
        ground.alpha_composite(each)
    assert numpy.abs(numpy.asarray(on_black[0], int) - numpy.asarray(on_black[1], int)).max() <= 16


def test_nothing_stays_round_holes_of_a_removed_background():
    """Paper with soft clear holes and slits, as a ticket has: nothing is left but the marking, far from them."""
    times = 8
    large = Image.new("RGBA", (160 * times, 120 * times), "#ebeced")
    pen = ImageDraw.Draw(large)
    for x, y, radius in ((20.3, 12.4, 9.2), (60.5, 15.1, 6.7), (140.2, 108.6, 14.1)):
        pen.ellipse([each * times for each in (x - radius, y - radius, x + radius, y + radius)], fill=(0, 0, 0, 0))
    pen.rectangle([each * times for each in (0, 100.4, 110, 103.1)], fill=(0, 0, 0, 0))
    pen.rectangle((50 * times, 40 * times, 110 * times - 1, 80 * times - 1), fill=MAROON)
    reply, got = asked(large.reduce(times), crop="no")
    assert reply["result"]["background"] == "#ebeced"
    alpha = numpy.asarray(got.getchannel("A"), int)
    assert alpha[40:80, 50:110].min() == 255
    alpha[40:80, 50:110] = 0
    assert alpha.max() == 0


def test_progress_grows_and_includes_writing():
    noise = numpy.random.default_rng(7).integers(0, 256, (700, 700, 3), numpy.uint8)
    picture = read_picture("noise.png", saved(Image.fromarray(noise), "PNG"), wanted=True)
    *steps, _outputs = CALCULATOR.steps(CleanPictureInputs(picture=picture, colours=6))
    shares = [step.share for step in steps]
    assert shares == sorted(shares) and 0 <= shares[0] and shares[-1] <= 1
    assert sum(step.words == messages.WRITING_PICTURE for step in steps) >= 4


def test_removal_from_the_border_keeps_enclosed_areas():
    _alone, card = art()
    _reply, got = asked(card, crop="no")
    assert got.getpixel((55, 55)) == (255, 255, 255, 255)
    assert got.getpixel((5, 5))[3] == 0


def test_cropping_keeps_every_visible_pixel():
    alone, card = art()
    reply, got = asked(card, background="everywhere")
    assert got.getbbox() == (0, 0, *got.size)
    left, top, right, bottom = alone.getchannel("A").point(lambda level: 255 if level > 32 else 0).getbbox()
    assert got.size == (right - left, bottom - top) == (reply["result"]["width_px"], reply["result"]["height_px"])


@pytest.mark.parametrize("seed", range(6))
def test_the_crop_box_equals_pillow_s(seed):
    rng = numpy.random.default_rng(seed)
    alpha = numpy.zeros((30, 41), numpy.uint8)
    alpha.ravel()[rng.integers(0, alpha.size, rng.integers(0, 4))] = 200
    assert marking_box(alpha.tobytes(), 41, 30) == Image.fromarray(alpha).getbbox()


def test_the_flood_fill_equals_scikit_image():
    """On hard edges both flood the same pixels from a corner."""
    image = Image.open(f"{SAMPLES}/horse.png").convert("L").point(lambda level: 255 if level > 127 else 0)
    pixels = raster(image)
    background = finished(flooded(pixels, finished(flat_colours(pixels)), 6, enclosed=False))
    wanted = flood(numpy.asarray(image), (0, 0), connectivity=1)
    assert background.plane == wanted.astype(numpy.uint8).tobytes()


def test_more_tolerance_removes_uneven_paper():
    """Paper that darkens by delta E 2000 of about 9 from left to right."""
    _alone, card = art()
    shade = Image.linear_gradient("L").rotate(90).resize(card.size).point(lambda level: 225 + level * 30 // 255)
    shaded = Image.composite(
        card, shade.convert("RGBA"), card.convert("L").point(lambda level: 255 if level < 250 else 0)
    )
    few, many = (asked(shaded, background_tolerance=text)[0]["result"] for text in ("3", "16"))
    assert few["width_px"] > many["width_px"]
    assert many["width_px"] == pytest.approx(121, abs=2)
    assert many["colour_count"] <= 4


def test_colours_are_joined_recoloured_dropped_and_named():
    _, card = art()
    before, _ = asked(card, background="everywhere")
    rows = {row["colour"]: row["number"] for row in before["result"]["colours"]}
    assert set(rows) == {MAROON, GREY}
    changes = [
        {"which": rows[GREY], "does": "becomes", "becomes": "#123456", "name": "Bar"},
        {"which": rows[MAROON], "does": "metallic", "name": "Copper"},
    ]
    reply, got = asked(card, changes, background="everywhere", crop="no")
    reasons = {row["name"]: (row["colour"], row["prints"]) for row in reply["result"]["colours"]}
    assert reasons == {"Bar": ("#123456", "Prints"), "Copper": (MAROON, "No metallic ink")}
    assert "Copper" in reply["result"]["reasons"][-1]
    assert got.getpixel((120, 60)) == (0x12, 0x34, 0x56, 255)
    joined, got = asked(
        card, [{"which": rows[GREY], "does": "joins", "joins": rows[MAROON]}], background="everywhere", crop="no"
    )
    assert joined["result"]["colour_count"] == 1
    assert got.getpixel((120, 60)) == Image.new("RGBA", (1, 1), MAROON).getpixel((0, 0))
    dropped, got = asked(card, [{"which": rows[GREY], "does": "dropped"}], background="everywhere")
    assert dropped["result"]["colour_count"] == 1
    assert got.width == pytest.approx(71, abs=1)


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"which": "9", "does": "dropped"}, "changes[0].which", "no colour 9"),
        ({"which": "1", "does": "joins", "joins": "9"}, "changes[0].joins", "no colour 9"),
        ({"which": "1", "does": "joins", "joins": "1"}, "changes[0].joins", "cannot join itself"),
    ],
)
def test_an_unmatched_change_is_reported_at_its_field(change, field, words):
    reply, _ = asked(art()[1], [change])
    (problem,) = reply["problems"]
    assert problem["field"] == field
    assert words in problem["text"]


def test_a_clear_picture_keeps_its_edges():
    crest = Image.open(DEMO / "crest-200px.png").convert("RGBA")
    reply, got = asked(crest)
    assert reply["result"]["background"] is None
    assert "already transparent" in reply["result"]["reasons"][0]
    difference = numpy.abs(
        numpy.asarray(got.getchannel("A"), int) - numpy.asarray(crest.crop(crest.getbbox()).getchannel("A"), int)
    )
    assert difference.max() == 0


@pytest.mark.parametrize(
    ("image", "verdict", "words"),
    [
        (lambda: Image.open(f"{SAMPLES}/astronaut.png"), "not-flat", "Type a number of colours"),
        (
            lambda: Image.fromarray(numpy.random.default_rng(1).integers(0, 256, (120, 120, 3), numpy.uint8)),
            "not-flat",
            "noise",
        ),
        (lambda: Image.new("RGB", (50, 40), MAROON), "nothing", f"The whole picture is one flat colour, {MAROON}"),
        (lambda: Image.new("RGB", (50, 40), MAROON), "nothing", "leave the background"),
        (lambda: Image.new("RGBA", (50, 40)), "nothing", "Every pixel of the picture is transparent"),
        (lambda: Image.new("RGB", (1, 1), MAROON), "nothing", f"The whole picture is one flat colour, {MAROON}"),
    ],
)
def test_a_picture_without_marking_is_reported(image, verdict, words):
    reply, got = asked(image())
    assert reply["outcome"] == "result"
    assert (reply["result"]["verdict"], got) == (verdict, None)
    assert words in " ".join(reply["result"]["reasons"])


def test_a_single_remaining_colour_is_not_free_standing():
    reply, got = asked(Image.new("RGB", (50, 40), MAROON), background="keep")
    assert reply["result"]["verdict"] == "left" and got.getcolors() == [(2000, (122, 34, 50, 255))]
    assert any(f"The whole picture is one flat colour, {MAROON}" in each for each in reply["result"]["reasons"])
    reply, _ = asked(Image.new("RGB", (50, 40), MAROON), [{"which": "1", "does": "dropped"}], background="keep")
    assert reply["result"]["reasons"] == [
        "Every pixel is removed or transparent. Lower the tolerance, or drop fewer colours."
    ]


@pytest.mark.parametrize(("place", "verdict"), [(0, "clean"), (1, "left")])
def test_a_background_that_is_left_does_not_stand_free(place, verdict):
    """One picture has nothing round its marking, the other a card."""
    assert asked(art()[place], background="keep")[0]["result"]["verdict"] == verdict


def test_a_photograph_is_reduced_to_the_requested_colours():
    reply, got = asked(Image.open(f"{SAMPLES}/chelsea.png"), colours="5", background="keep")
    assert reply["result"]["colour_count"] == 5
    assert len(got.getcolors(100)) == 5


def test_a_change_reuses_the_colours_found(monkeypatch):
    asked(art()[1])

    def fails(*_args, **_options):
        raise AssertionError("found anew")

    monkeypatch.setattr("calculators.pixels.flat_colours.flat_colours", fails)
    assert asked(art()[1], [{"which": "1", "does": "dropped"}])[0]["outcome"] == "result"


@pytest.mark.parametrize("calculator", ["trace", "white-areas"])
def test_others_reuse_the_colours_that_cleaning_found(monkeypatch, calculator):
    image = art({"trace": "#2f6b3f", "white-areas": "#5b2a86"}[calculator])[1]
    found = asked(image)[0]["result"]["colours"]

    def fails(*_args, **_options):
        raise AssertionError("found anew")

    monkeypatch.setattr("calculators.pixels.flat_colours.flat_colours", fails)
    envelope = {
        "do": "answer",
        "calculator": calculator,
        "inputs": {"width_mm": "30"},
        "files": {"picture": {"name": "marking.png", "bytes": 0}},
    }
    *_, (text, _buffers) = answer(json.dumps(envelope), [saved(image, "PNG")])
    assert json.loads(text)["outcome"] == "result"
    assert len(found) == 3


@pytest.mark.parametrize("size", [(64, 48), (63, 49), (200, 3)])
def test_halving_is_the_mean_of_four(size):
    rng = numpy.random.default_rng(3)
    pixels = rng.integers(0, 256, (size[1], size[0], 4), numpy.uint8)
    pixels[..., 3] = 255
    image = Image.fromarray(pixels)
    small = worked(raster(image), most=size[0] * size[1] // 2)
    wanted = image.crop((0, 0, size[0] // 2 * 2, size[1] // 2 * 2)).reduce(2)
    assert (small.width, small.height) == wanted.size
    assert numpy.abs(numpy.asarray(wanted, int).ravel() - numpy.frombuffer(small.rgba, numpy.uint8)).max() <= 1


def test_halving_a_clear_picture_mixes_nothing_in():
    image = Image.new("RGBA", (40, 40), (0, 255, 0, 0))
    image.paste((200, 10, 10, 255), (11, 11, 29, 29))
    small = worked(raster(image), most=400)
    assert set(memoryview(small.rgba).cast("I")) == set(memoryview(raster(image).rgba).cast("I"))


def test_a_large_picture_is_cleaned_smaller_and_says_so(monkeypatch):
    monkeypatch.setattr("calculators.pixels.downscaling.worked.__defaults__", (10_000,))
    reply, got = asked(art("#1f3b4d")[1], crop="no")
    assert got.size == (80, 60)
    assert "reduced from 160" in " ".join(reply["result"]["reasons"])


@pytest.mark.parametrize("quality", [None, 85, 70])
def test_lettering_lost_with_too_few_colours_is_not_green(quality):
    """White strokes two pixels wide on red, in a picture 180 pixels wide; asked for
    two colours they go with the card.
    """
    image = Image.frombytes("RGBA", (180, 90), rgba_of(lettering(180, 2.0, "#ffffff")[0], quality).rgba)
    reply = asked(image, colours="2", background="keep", background_tolerance="0")[0]
    reasons = " ".join(reply["view"]["verdict"]["reasons"])
    assert reply["result"]["verdict"] == "left"
    assert "Thin strokes are lost in" in reasons and "Ask for more colours" in reasons
    reply = asked(image, colours="2")[0]
    assert reply["result"]["verdict"] == "lost"
    assert "Losses marked: " in reply["result"]["shown"]["alt"]


def test_complete_lettering_stays_green():
    # Card and band both reach the border, so they are the marking.
    reply, _got = asked(lettering(180, 2.0, "#ffffff")[0])
    assert (reply["result"]["verdict"], reply["view"]["verdict"]["level"]) == ("whole", "pass")
    assert "lost" not in " ".join(reply["view"]["verdict"]["reasons"])


def test_a_change_that_the_reader_made_is_no_loss():
    reply, _got = asked(lettering(180, 2.0, "#ffffff")[0], changes=[{"which": "2", "does": "dropped"}])
    assert reply["result"]["verdict"] == "whole"


def test_a_washed_colour_is_reported_until_joined(monkeypatch):
    """Assumes a washed colour; its detection has tests of its own."""
    colour = "#335577"
    place = Place((20, 20, 90, 90), (128, 128, 128), tuple(bytes.fromhex(colour[1:])), ((30, 30), (80, 80)))
    monkeypatch.setattr(clean_picture, "losses", lambda *_given: Losses((), 0, (), (place,)))
    image = art(colour)[1]
    reply = asked(image)[0]
    assert reply["result"]["verdict"] == "lost"
    assert f"{colour} was perhaps #808080" in " ".join(reply["view"]["verdict"]["reasons"])
    which = [row["colour"] for row in reply["result"]["colours"]].index(colour) + 1
    reply = asked(image, changes=[{"which": str(which), "does": "becomes", "becomes": "#808080"}])[0]
    assert reply["result"]["verdict"] == "clean"
