"""Pieces in their frames, by where their lines lie."""

import pytest
from shapely import Point, box, unary_union

from calculators.cut.layout import Format, Wanted, across_sheet, crosses, laid_out, stays_on_sheet
from calculators.cut.openings import beneath, painted
from calculators.files.cut_files import cut_sheet, dxf_of_sheet, svg_of_sheet
from calculators.shapes.cut_pieces import Layer
from calculators.shapes.cutting_order import cutting_order
from calculators.shapes.waste import corners_of
from tests.calculators.cut.cut_artwork import drawn

NAMES = ("frame", "cuts through waste")


def wanted(artwork):
    return [
        Wanted(f"stencil for {colour}", Layer.STENCIL, "masking film", opening.flat)
        for colour, opening in painted(artwork, 0.2)
    ]


def test_register_crosses_lie_outside_the_artwork_and_inside_the_frame():
    form = Format(20 + 12j, beyond=0.5)
    low, high = form.frame
    for run in crosses(form):
        for point in run[0]:
            assert low.real < point.real < high.real and low.imag < point.imag < high.imag
            assert not (-0.5 < point.real < 20.5 and -0.5 < point.imag < 12.5)


def test_register_crosses_are_at_the_same_place_in_every_piece():
    artwork = drawn("half-bordered plate")
    pieces = laid_out(artwork.plane, wanted(artwork), Format(artwork.size), NAMES)
    frames = [piece for piece in pieces if piece.layer is Layer.FRAME]
    stencils = [piece for piece in pieces if piece.layer is Layer.STENCIL]
    assert len(frames) == len(stencils) == 2
    shares = []
    for frame, stencil in zip(frames, stencils, strict=True):
        corner, _ = corners_of(frame.outlines)
        shares.append([[point - corner for point in run[0]] for run in stencil.marks])
    assert len(shares[0]) == 6
    for one, other in zip(*shares, strict=True):
        assert one == pytest.approx(other, abs=1e-9)
    (_low, end), (start, _high) = (corners_of(frame.outlines) for frame in frames)
    assert end.real < start.real or end.imag < start.imag


def test_many_large_pieces_stay_within_what_a_file_may_hold():
    artwork = drawn("hairline white rim")
    one = Wanted("white", Layer.STENCIL, "film", beneath(artwork, 0.2).flat)
    pieces = laid_out(artwork.plane, [one] * 12, Format(400 + 400j, sheet_width=420), NAMES)
    assert not stays_on_sheet([one] * 12, Format(400 + 400j, sheet_width=420))
    frames = [box(*_corners(piece)) for piece in pieces if piece.layer is Layer.FRAME]
    assert unary_union(frames).area == pytest.approx(12 * frames[0].area)
    assert max(max(_corners(piece)) for piece in pieces) < 2000


def _corners(piece):
    low, high = corners_of(piece.outlines)
    return low.real, low.imag, high.real, high.imag


def _order(point):
    return round(point.real, 6), round(point.imag, 6)


def test_a_mirrored_piece_is_mirrored_with_its_crosses_in_the_same_frame():
    artwork = drawn("hairline white rim")
    plain, other = (
        laid_out(
            artwork.plane,
            [Wanted("white", Layer.STENCIL, "film", beneath(artwork, 0.2).flat)],
            Format(artwork.size, mirrored=mirrored),
            NAMES,
        )
        for mirrored in (False, True)
    )
    assert corners_of(plain[1].outlines) == corners_of(other[1].outlines)
    low, high = corners_of(plain[1].outlines)
    for kind in ("outlines", "marks"):
        one = sorted(
            (low + high).real - point.real for run in getattr(plain[0], kind) for piece in run for point in piece
        )
        two = sorted(point.real for run in getattr(other[0], kind) for piece in run for point in piece)
        assert one == pytest.approx(two, abs=1e-9)
    assert other[0].mirrored and not plain[0].mirrored


def test_the_sheet_is_as_wide_as_the_shorter_side_of_a_frame():
    form = Format(60 + 12j)
    low, high = form.frame
    assert across_sheet(form) == pytest.approx((high - low).imag) and (high - low).real > 70


def test_pieces_go_into_files_with_their_layers():
    artwork = drawn("half-bordered plate")
    pieces = laid_out(artwork.plane, wanted(artwork), Format(artwork.size, has_waste_cuts=True), NAMES)
    sheet = cut_sheet(cutting_order(pieces))
    for made in (svg_of_sheet(sheet, "plate").decode(), dxf_of_sheet(sheet).decode()):
        for layer in (Layer.STENCIL, Layer.REGISTER, Layer.FRAME):
            assert layer.value in made


def test_copies_lie_in_rows_as_long_as_the_sheet_and_turned_where_only_that_fits():
    artwork = drawn("hairline white rim")
    one = [Wanted("white", Layer.STENCIL, "film", beneath(artwork, 0.2).flat, count=5)]
    for width, columns, turned in ((90, 2, False), (35, 1, True)):
        form = Format(artwork.size, sheet_width=width)
        pieces = laid_out(artwork.plane, one, form, NAMES)
        frames = [_corners(piece) for piece in pieces if piece.layer is Layer.FRAME]
        assert len(frames) == 5 and len({frame[0] for frame in frames}) == columns
        assert max(frame[2] for frame in frames) <= width and stays_on_sheet(one, form)
        assert unary_union([box(*frame) for frame in frames]).area == pytest.approx(5 * box(*frames[0]).area)
        left, top, right, bottom = frames[0]
        assert form.is_turned == turned == (right - left < bottom - top)
        stencils = [piece for piece in pieces if piece.layer is Layer.STENCIL]
        assert [piece.count for piece in stencils] == [5, 0, 0, 0, 0]
        for piece, frame in zip(stencils, frames, strict=True):
            points = [point for run in (*piece.outlines, *piece.marks) for part in run for point in part]
            assert all(box(*frame).contains(Point(point.real, point.imag)) for point in points)


def test_a_piece_wider_than_its_sheet_does_not_stay_on_it():
    artwork = drawn("hairline white rim")
    one = [Wanted("white", Layer.STENCIL, "film", beneath(artwork, 0.2).flat)]
    form = Format(artwork.size, sheet_width=20)
    assert not form.fits and not stays_on_sheet(one, form)
    assert len(laid_out(artwork.plane, one, form, NAMES)) == 2
