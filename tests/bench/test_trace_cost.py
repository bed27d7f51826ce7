"""The cost of tracing an emblem of six colours: natively against potrace, in the page against stock starts.

Run by ``make bench``.
"""

from __future__ import annotations

import io
import resource
import statistics
import subprocess
import sys
import time

import numpy
import pytest
from PIL import Image
from playwright.sync_api import expect
from scipy import ndimage

from calculators.artwork.trace import CALCULATOR, TraceInputs
from calculators.files.picture import read_picture
from calculators.pixels.edge_shares import with_edges
from calculators.pixels.flat_colours import flat_colours
from calculators.pixels.raster import Raster
from calculators.shapes.corners import Sought
from calculators.shapes.outlines import lines
from calculators.shapes.planar_map import planar_map
from calculators.shapes.regions import rings
from tests.bench.emblem import COLOURS, emblem
from tests.bench.stock import launched, stock_start, wait_for_words
from tests.bench.test_photograph import memory_mb
from tests.browser.forms import typed
from tests.calculators.pixels.test_flat_colours import finished
from tests.calculators.pixels.truth import potrace

pytestmark = pytest.mark.bench

ROUNDS = 5
LEAST_STEPS = 100_000
#: The width and height of noise with just few enough arcs to be traced.
SIDE = 580
MOST_OF_POTRACE, MOST_STARTS, MOST_MB, MOST_OF_EMBLEM = 10, 3, 512, 6


def cpu_s(work, who: int) -> float:
    before = resource.getrusage(who)
    work()
    after = resource.getrusage(who)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_six_layers_cost_no_more_than_ten_times_potrace():
    """Both start from six finished layers. The time to separate the colours is printed besides."""
    picture = read_picture("emblem.png", emblem(), wanted=True)
    raster = Raster(picture.rgba, picture.width_px, picture.height_px)
    flat = with_edges(finished(flat_colours(raster)), raster)
    labels = numpy.frombuffer(flat.labels, numpy.uint8).reshape(raster.height, raster.width)
    layers = [labels == place for place, each in enumerate(flat.colours) if each.hex in COLOURS]
    assert len(layers) == 6
    steps = int((labels[1:] != labels[:-1]).sum() + (labels[:, 1:] != labels[:, :-1]).sum())
    assert steps >= LEAST_STEPS

    def ours() -> None:
        made = finished(planar_map(flat.labels, flat.others, flat.leans, flat.width))
        rings(made, finished(lines(made, 0.1, Sought(0.52))).lines)

    def of_potrace() -> None:
        for layer in layers:
            potrace(layer)

    rounds = [
        (cpu_s(ours, resource.RUSAGE_SELF), cpu_s(of_potrace, resource.RUSAGE_CHILDREN)) for _ in range(2 * ROUNDS)
    ]
    own, theirs = (statistics.median(each) for each in zip(*rounds, strict=True))
    whole = cpu_s(lambda: CALCULATOR.answer(TraceInputs(picture=picture, width_mm=100)), resource.RUSAGE_SELF)
    print(
        f"\n{steps} steps; ours {own:.2f} s, potrace {theirs:.3f} s: {own / theirs:.1f} times, at most "
        f"{MOST_OF_POTRACE}; with the colours and the files {whole:.2f} s"
    )
    assert own <= MOST_OF_POTRACE * theirs


def test_noise_of_two_colours_takes_bounded_time():
    """A picture with just few enough edges to be accepted, against the emblem."""
    lot = ndimage.gaussian_filter(numpy.random.default_rng(1).standard_normal((SIDE, SIDE)), 1)
    shares = (ndimage.zoom(lot, 4, order=1) > 0).reshape(SIDE, 4, SIDE, 4).mean((1, 3))
    file = io.BytesIO()
    Image.fromarray(numpy.uint8(255 * shares)).save(file, "PNG")
    drawn, noise = (
        read_picture("emblem.png", emblem(), wanted=True),
        read_picture("noise.png", file.getvalue(), wanted=True),
    )
    verdicts = []
    usual = cpu_s(lambda: CALCULATOR.answer(TraceInputs(picture=drawn)), resource.RUSAGE_SELF)
    most = cpu_s(lambda: verdicts.append(CALCULATOR.answer(TraceInputs(picture=noise)).verdict), resource.RUSAGE_SELF)
    print(f"\nnoise, {verdicts[0]}: {most:.2f} s, {most / usual:.1f} times the emblem, at most {MOST_OF_EMBLEM}")
    assert most <= MOST_OF_EMBLEM * usual


def test_memory_stays_small(tmp_path):
    (tmp_path / "emblem.png").write_bytes(emblem())
    script = (
        "import re, sys; from pathlib import Path; from calculators.artwork.trace import CALCULATOR, TraceInputs;"
        " from calculators.files.picture import read_picture;"
        " CALCULATOR.answer(TraceInputs(picture=read_picture('e.png', open(sys.argv[1], 'rb').read(), wanted=True)));"
        # Count this process alone: the usual count starts from pytest's memory at the fork.
        " print(int(re.search(r'VmHWM:\\s+(\\d+)', Path('/proc/self/status').read_text())[1]) / 1024)"
    )
    made = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "emblem.png")], capture_output=True, text=True, check=True
    )
    print(f"\nmost memory {float(made.stdout):.0f} MB, at most {MOST_MB} MB")
    assert float(made.stdout) <= MOST_MB


def test_page_tracing_takes_at_most_three_stock_starts(host, chromium):
    data, stock, took, memory = emblem(), [], [], []
    for turn in range(ROUNDS + 1):
        started = stock_start(host, chromium)
        browser = launched(chromium)
        page = browser.new_page(viewport={"width": 1180, "height": 820})
        page.goto(f"{host.url}artwork/trace/")
        expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=60_000)
        typed(page, "width_mm").fill("14")  # otherwise the picture asks for it
        before = time.perf_counter()
        page.locator("input[type=file]").first.set_input_files(
            {"name": "emblem.png", "mimeType": "image/png", "buffer": data}
        )
        wait_for_words(page, "[data-result=svg]", "emblem.svg")
        if turn:
            stock.append(started)
            took.append(1000 * (time.perf_counter() - before))
            memory.append(memory_mb(browser))
        browser.close()
    starts = statistics.median(took) / statistics.median(stock)
    most_mb = statistics.median(memory)
    print(
        f"\nstock {statistics.median(stock):.0f} ms; emblem {statistics.median(took):.0f} ms: {starts:.2f} starts, "
        f"at most {MOST_STARTS};"
        f" most memory of one process {most_mb:.0f} MB"
    )
    assert starts <= MOST_STARTS
    assert most_mb <= MOST_MB
