"""Hands a picture to the calculators as a page does, and compares the answers with the truth."""

from __future__ import annotations

import json
import re
from functools import lru_cache
from hashlib import sha256
from typing import Any

import numpy

from calculators.answer import answer
from calculators.files.outline_reader import read_outlines
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.flat_colours import NONE, FlatColours, NotFlat, known_flat_colours
from calculators.pixels.raster import Raster
from calculators.pixels.white_areas import areas
from calculators.pixels.white_guess import BACKGROUND, HOLE, WANTED
from tests.calculators.pixels.truth import along
from tests.corpus import measures
from tests.corpus.drawings import RESVG, Drawing, rendered
from tests.corpus.drawings import WANTED as WHITE_TOKEN
from tests.corpus.truth import BACKGROUND as IS_BACKGROUND
from tests.corpus.truth import HOLE as IS_HOLE
from tests.corpus.truth import NO_WHITE, WANTED_WHITE, Truth, delta_e, labels_of, truth_of
from tests.corpus.web_design import Case
from tests.corpus.web_pictures import WebPicture, drawings, made
from tests.steps import finished

#: Main colours of a drawing for which colours and strokes are judged.
FEWEST_COLOURS, MOST_COLOURS = 2, 8
#: The printed width of every picture, mm; and at which sizes white is judged.
WIDTH_MM, WHITE_SIZES_PX = 30, (180, 300)
#: A drawing with less of its area in flat colours has soft shades without edges to compare outlines with.
FLAT_FROM = 0.9
#: The size and qualities at which outlines are compared with the drawing's own, and the longer side of that in pixels.
OUTLINES_PX, OUTLINE_QUALITIES, EDGES_PX = 300, (0, 85), 12 * 300
_WHITE_WITHIN = 5.0
_MEANINGS = {BACKGROUND: IS_BACKGROUND, WANTED: WANTED_WHITE, HOLE: IS_HOLE}
#: Lost detail from the first share of a colour's stroke length; gone or merged from the second.
HIDES_LOST, HIDES_GONE = 0.03, 0.5
#: The distance in pixels between points along outlines.
OUTLINE_STEP_PX = 0.1
#: Means "no colour was found" in a record, because JSON has no infinity.
_FAR = 999.0

Record = dict[str, Any]


class NoAnswer(Exception):
    """A calculator gave no result about a picture: a fault, or a problem that a page would report."""


def asked(calculator: str, picture: WebPicture, case: Case, **inputs: str) -> tuple[dict[str, Any], list[bytes]]:
    """Return the last envelope of a calculator's answer about a picture, and its buffers."""
    envelope = json.dumps(
        {
            "do": "answer",
            "calculator": calculator,
            "inputs": {key: str(value) for key, value in inputs.items()},
            "files": {"picture": {"name": f"picture.{case.file.lower()}", "bytes": 0}},
        }
    )
    reply, buffers = list(answer(envelope, [picture.data]))[-1]
    reply_data = json.loads(reply)
    if reply_data["outcome"] != "result":
        raise NoAnswer(f"{calculator}: {reply}")
    return reply_data, buffers


def judged(case: Case) -> Record:
    """Return the record of a case: what it is, and each measure that applies to it,
    or why a calculator gave no answer.
    """
    picture = made(case)
    record: Record = {
        "id": case.id,
        "half": case.half,
        "size": case.size_px,
        "renderer": case.renderer,
        "quality": case.quality,
        "chroma": case.chroma,
        "again": case.again,
        "file": case.file,
        "factor": case.factor,
        "kernel": case.kernel,
        "clear": case.clear,
    }
    try:
        record |= _measured(case, picture)
    except NoAnswer as none:
        record["no_answer"] = str(none)
    return record


def _measured(case: Case, picture: WebPicture) -> Record:
    record = _looked_into(case, picture)
    drawing = drawings().get(case.drawing)
    if drawing and drawing.flat and case.is_plain:
        truth = truth_at(drawing.name, case.clear)
        if FEWEST_COLOURS <= len(truth.colours) <= MOST_COLOURS:
            record |= _flat(case, picture, drawing, truth)
        if truth.whites is not None and case.size_px in WHITE_SIZES_PX:
            record["whites_right"] = _whites(picture, truth)
    return record


@lru_cache(maxsize=4)
def truth_at(name: str, clear: bool) -> Truth:
    """Return the truth about a drawing, cached for its other pictures."""
    return truth_of(drawings()[name], clear=clear)


def _looked_into(case: Case, picture: WebPicture) -> Record:
    reply, _buffers = asked("picture-check", picture, case, width_mm=WIDTH_MM)
    result, width = reply["result"], picture.pixels.shape[1]
    record = {
        "enlarged": result["enlarged"],
        "damage_told": result["jpeg_damage"] == "yes",
        "damaged_share": measures.damaged_share(picture.pixels, picture.lossless) if case.quality else 0.0,
    }
    if case.factor > 1:
        record["detail_error"] = measures.detail_error(result["true_detail_width_px"], width / case.factor)
    return record


def _flat(case: Case, picture: WebPicture, drawing: Drawing, truth: Truth) -> Record:
    flat, width = _flat_colours(picture), picture.pixels.shape[1]
    found = [each.rgb for each in flat.colours] if flat else []
    shares = [each.share for each in flat.colours] if flat else []
    seen = _seen(flat, picture)
    record = {
        "colours_true": len(truth.colours),
        "colours_found": len(found),
        "missing": measures.missing(truth.colours, found, width),
        "invented": measures.invented(truth.every, found, shares),
        "colour_errors": [min(each, _FAR) for each in measures.colour_errors(truth.colours, found, width)],
        "thin_errors": [min(each, _FAR) for each in measures.colour_errors(truth.colours, found, width, broad=False)],
    }
    if drawing.lettering and (place := _place(truth, drawing.lettering)) is not None:
        record["lettering_lost"] = measures.stroke_length(truth.colours, place, picture.lossless, seen, thin=True).lost
    cleaned, _buffers = asked("clean-picture", picture, case)
    traced, buffers = asked("trace", picture, case, width_mm=WIDTH_MM)
    record["clean_level"] = cleaned["view"]["verdict"]["level"]
    record["trace_level"] = traced["view"]["verdict"]["level"]
    if (
        case.size_px == OUTLINES_PX
        and case.quality in OUTLINE_QUALITIES
        and not case.again
        and truth.flat_share >= FLAT_FROM
    ):
        record |= _deviation(drawing, case.clear, traced, buffers, picture)
    record |= _losses("clean", truth, picture, seen)
    record |= _losses("trace", truth, picture, _drawn(traced, buffers, seen))
    return record


@lru_cache(maxsize=2)
def _true_edges(name: str, clear: bool) -> numpy.ndarray:
    return measures.edge_points(
        labels_of(drawings()[name], truth_at(name, clear).every, clear=clear, longer_px=EDGES_PX)
    )


def _deviation(drawing: Drawing, clear: bool, traced: Record, buffers: list[bytes], picture: WebPicture) -> Record:
    """Return the real and the stated distance of traced outlines from the drawing's edges, in pixels."""
    file = _outlines_file(traced, buffers)
    if file is None:
        return {}
    found = read_outlines(file)
    left, top, width, height = found.box
    step = OUTLINE_STEP_PX * width / picture.pixels.shape[1]
    points = numpy.concatenate([along(ring, step) for shape in found.shapes for ring in shape.rings])
    size = picture.pixels.shape[1::-1]
    apart = measures.deviations((points - (left, top)) / (width, height), _true_edges(drawing.name, clear), size)
    if not len(apart):
        return {}
    stated = traced["result"]["worst_mm"] * size[0] / WIDTH_MM
    return {
        "outline_mean": float(apart.mean()),
        "outline_95": float(numpy.quantile(apart, 0.95)),
        "outline_stated": stated,
    }


def _outlines_file(traced: Record, buffers: list[bytes]) -> bytes | None:
    file = next((each for each in traced["files"] if each["media"] == "image/svg+xml"), None)
    return None if file is None else buffers[file["buffer"]]


def _place(truth: Truth, colour: str) -> int | None:
    """Return the place of the lettering's main colour, None if it is too small to be one."""
    colour = "#ffffff" if colour == WHITE_TOKEN else colour
    rgb = tuple(bytes.fromhex(colour[1:]))
    apart = delta_e([rgb], [each.rgb for each in truth.colours])
    return int(apart.argmin()) if apart.min() < 1 else None


def _losses(name: str, truth: Truth, picture: WebPicture, reported: numpy.ndarray) -> Record:
    """Return the largest share that a main colour lost of its length, and whether one is gone or merged."""
    lengths = [
        measures.stroke_length(truth.colours, place, picture.lossless, reported) for place in range(len(truth.colours))
    ]
    lost = [each.lost for each in lengths if each.lost is not None]
    worst = max(lost, default=0.0)
    return {f"{name}_lost": worst, f"{name}_hides": worst > HIDES_LOST, f"{name}_gone": worst > HIDES_GONE}


def _raster(picture: WebPicture) -> Raster:
    height, width = picture.pixels.shape[:2]
    # Named by its file, as a page names it: what calculators found of it is not sought again.
    return worked(Raster(picture.pixels.tobytes(), width, height, sha256(picture.data).hexdigest()))


def _flat_colours(picture: WebPicture) -> FlatColours | None:
    try:
        return finished(known_flat_colours(_raster(picture)))
    except (NotFlat, TooManyRuns):
        return None


def _seen(flat: FlatColours | None, picture: WebPicture) -> numpy.ndarray:
    """Return each pixel in its label's colour, height x width x 3; negative without a label."""
    if flat is None:
        return numpy.full((*picture.pixels.shape[:2], 3), -1, numpy.int16)
    # Levels and -1 fit into 16 bits: of a large picture, more bits take longer to fill than to compare.
    colours = numpy.full((256, 3), -1, numpy.int16)
    colours[: len(flat.colours)] = [each.rgb for each in flat.colours]
    assert NONE == 255
    return colours[numpy.frombuffer(flat.labels, numpy.uint8).reshape(flat.height, flat.width)]


def _drawn(traced: Record, buffers: list[bytes], seen: numpy.ndarray) -> numpy.ndarray:
    """Return the traced outlines drawn at four times the picture's size, on the main colour of its border."""
    times = 4
    height, width = seen.shape[:2]
    file = _outlines_file(traced, buffers)
    if file is None:
        return numpy.full((height, width, 3), -1, seen.dtype)
    ground = numpy.concatenate([seen[0], seen[-1], seen[:, 0], seen[:, -1]])
    shades, counts = numpy.unique(ground, axis=0, return_counts=True)
    # Its size is in mm and follows the picture's, so let the renderer use the chosen pixels.
    svg = re.sub(r' (width|height)="[\d.]+mm"', "", file.decode(), count=2)
    pixels = rendered(svg, times * width, times * height, RESVG, clear=True)
    return numpy.where(pixels[..., 3:] >= 128, pixels[..., :3], shades[counts.argmax()])


def _whites(picture: WebPicture, truth: Truth) -> float | None:
    raster = _raster(picture)
    try:
        found = finished(areas(raster))
    except TooManyRuns:
        return 0.0
    guessed = numpy.full(raster.width * raster.height, NO_WHITE, numpy.uint8)
    for each in (*found.areas, *found.unnumbered):
        for start, stop in each.area.runs:
            guessed[start:stop] = _MEANINGS[each.guess]
    white = delta_e(picture.lossless[..., :3], [255, 255, 255]) <= _WHITE_WITHIN
    return measures.whites_right(truth.whites, guessed.reshape(raster.height, raster.width), white)
