"""Drawings in SVG, written for the tests: each feature that is read alone, and several within each other."""

from __future__ import annotations

RED, BLUE, GOLD = "#c02030", "#205090", "#d0a020"
_PATH = "M12 6l24 4-6 26-20-2z"


def drawing(body: str, root: str = 'width="5in" height="5in" viewBox="0 0 48 48"') -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {root}>{body}</svg>'


def stroke(more: str, d: str = "M10 34L24 10L38 34", width: int = 6) -> str:
    return drawing(f'<path fill="none" stroke="{RED}" stroke-width="{width}" {more} d="{d}"/>')


DRAWINGS = {
    "groups": drawing(f'<g fill="{RED}"><g><path d="{_PATH}"/></g><path fill="{BLUE}" d="M2 40h44v6h-44z"/></g>'),
    "transforms": drawing(
        f'<g transform="translate(24,24) rotate(30)"><path fill="{RED}" transform="scale(1.2 .7)"'
        f' d="M-12-12h24v24h-24z"/>'
        f'</g><path fill="{BLUE}" transform="rotate(15 8 40) skewX(20)" d="M2 38h10v6h-10z"/>'
        f'<path fill="{GOLD}" transform="matrix(0 1 -1 0 46 2) skewY(-10)" d="M0 0h8v6h-8z"/>'
    ),
    "rectangles": drawing(
        f'<rect x="3" y="4" width="20" height="12" fill="{RED}"/><rect x="26" y="4" width="18" height="30" rx="5"'
        f' fill="{BLUE}"/><rect x="3" y="20" width="20" height="24" rx="12" ry="3" fill="{GOLD}"/>'
    ),
    "circles-and-ellipses": drawing(
        f'<circle cx="16" cy="16" r="13" fill="{RED}"/><ellipse cx="30" cy="34" rx="16" ry="8" fill="{BLUE}"/>'
    ),
    "lines-and-polygons": drawing(
        f'<polygon points="4,4 30,6 20,20" fill="{RED}"/><polyline points="30 20 44 22 40 40" fill="{GOLD}"/>'
        f'<line x1="4" y1="44" x2="40" y2="30" stroke="{BLUE}" stroke-width="3"/>'
    ),
    "curves-of-every-kind": drawing(
        f'<path fill="{RED}" d="M4 20Q10 2 20 12T40 10S46 20 40 24c-4 4-8-6-14 0s-12 8-16 2z"/>'
        f'<path fill="{BLUE}" d="m6 30q4 14 10 6t10 2s8 8 14-4v8h-34z"/>'
    ),
    "arcs": drawing(
        f'<path fill="{RED}" d="M24 4A20 20 0 0 1 44 24L24 24z"/><path fill="{BLUE}" d="M20 28a12 7 30 1 0 4 8z"/>'
        f'<path fill="{GOLD}" d="M4 4a6 6 0 01.5 12a1 1 0 0 0 12-6z"/>'
    ),
    "fill-rules": drawing(
        f'<path fill="{RED}" d="M12 2l8 22-20-14h24l-20 14z"/>'
        f'<path fill="{BLUE}" fill-rule="evenodd" d="M34 22l8 22-20-14h24l-20 14z"/>'
    ),
    "butt-caps-and-miters": stroke('stroke-miterlimit="10"'),
    "miters-over-their-limit": stroke('stroke-miterlimit="1.2"'),
    "round-caps-and-joins": stroke('stroke-linecap="round" stroke-linejoin="round"'),
    "square-caps-and-bevels": stroke('stroke-linecap="square" stroke-linejoin="bevel"'),
    "closed-strokes": stroke('stroke-linejoin="miter"', "M10 34L24 10L38 34z"),
    "strokes-of-curves": stroke('stroke-linecap="round"', "M6 40C6 0 42 0 42 24S12 30 20 40"),
    "strokes-that-cross": stroke("", "M6 6L42 42M42 6L6 42M24 4A20 20 0 1 1 23.9 4z"),
    "strokes-of-points": stroke('stroke-linecap="round"', "M10 10h0M30 10zM24 30v0"),
    "dashes": stroke('stroke-dasharray="7 2 3" stroke-dashoffset="4"', "M6 40C6 0 42 0 42 40"),
    "dashes-with-round-caps": stroke('stroke-dasharray="4 5" stroke-linecap="round"', "M6 8h36v30h-36z", 3),
    "stretched-strokes": drawing(
        f'<g transform="translate(4 4) scale(1.6 .6) rotate(20)"><rect x="4" y="0" width="16" height="30"'
        f' fill="{GOLD}"'
        f' stroke="{RED}" stroke-width="4" stroke-linejoin="round"/></g>'
    ),
    "uses": drawing(
        f'<defs><path id="a" d="M0 0h10v8h-10z"/><g id="b"><use xlink:href="#a"/><use href="#a" x="6"'
        f' y="10"/></g></defs>'
        f'<use href="#b" x="2" y="2" fill="{RED}"/><use href="#b" transform="translate(24 20) rotate(20)"'
        f' fill="{BLUE}"/>'
    ),
    "symbols": drawing(
        f'<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="6" fill="{RED}"/></symbol>'
        '<use href="#s" x="2" y="2" width="20" height="30"/><use href="#s" x="26" y="26" width="18" height="18"/>'
    ),
    "nested-drawings": drawing(
        f'<svg x="4" y="4" width="30" height="20" viewBox="0 0 10 10"><path fill="{RED}" d="M-5-5h12v22h-12z"/></svg>'
        f'<svg x="20" y="26" width="50%" height="20" viewBox="0 0 4 4" preserveAspectRatio="xMaxYMin slice">'
        f'<circle cx="2" cy="2" r="2" fill="{BLUE}"/></svg>'
        f'<svg x="2" y="28" width="14" height="18" viewBox="0 0 4 4" preserveAspectRatio="none">'
        f'<circle cx="2" cy="2" r="2" fill="{GOLD}"/></svg>'
    ),
    "clip-paths": drawing(
        f'<clipPath id="c"><circle cx="20" cy="20" r="14"/><rect x="20" y="20" width="20" height="20"/></clipPath>'
        f'<g clip-path="url(#c)"><path fill="{RED}" d="M0 0h48v24h-48z"/><path fill="{BLUE}" d="M0'
        f' 24h48v24h-48z"/></g>'
    ),
    "clip-paths-in-parts-of-a-box": drawing(
        '<clipPath id="c" clipPathUnits="objectBoundingBox"><path clip-rule="evenodd" d="M.5 0L1 .5 .5 1 0'
        ' .5zM.3 .3h.4v.4h-.4z"/>'
        f'</clipPath><rect x="6" y="4" width="36" height="30" fill="{RED}" clip-path="url(#c)"/>'
    ),
    "clip-paths-within-clip-paths": drawing(
        '<clipPath id="a"><circle cx="24" cy="24" r="18"/></clipPath>'
        '<clipPath id="b" clip-path="url(#a)" transform="rotate(10 24 24)"><rect x="4" y="16" width="40"'
        ' height="30"/></clipPath>'
        f'<rect width="48" height="48" fill="{BLUE}" clip-path="url(#b)" stroke="{RED}" stroke-width="30"/>'
    ),
    "style-attributes": drawing(
        f'<path fill="{BLUE}" style="fill : {RED}; stroke:navy;stroke-width:2px; stroke-linejoin:round" d="{_PATH}"/>'
    ),
    "style-sheets": drawing(
        "<style>/* two */ .a{fill:#c02030} path.b,#c{fill:#205090} rect{fill:gold;stroke:none} *{stroke:black}"
        " .w{stroke-width:3}</style>"
        '<path class="a w" d="M4 4h16v16h-16z"/><path class="a b" d="M26 4h16v16h-16z"/><rect id="c" x="4"'
        ' y="26" width="16"'
        ' height="16"/><rect class="x" x="26" y="26" width="16" height="16" style="fill:teal"/>'
    ),
    "colours": drawing(
        '<path fill="darkorchid" d="M2 2h10v44h-10z"/><path fill="rgb(10, 120,200)" d="M12 2h10v44h-10z"/>'
        '<path fill="hsl(120,60%,40%)" d="M22 2h10v44h-10z"/><g color="Tomato"><path fill="currentColor" d="M32'
        ' 2h14v44h-14z"/></g>'
        '<path fill="#fa08" fill-opacity="0" d="M0 0h48v48h-48z"/>'
    ),
    "hidden-parts": drawing(
        f'<g visibility="hidden"><path d="M0 0h20v20h-20z"/><path visibility="visible" fill="{RED}" d="M20'
        f' 4h24v24h-24z"/></g>'
        f'<g display="none"><path d="M0 30h40v9h-40z"/></g><path opacity="0" d="M0 0h48v48h-48z"/>'
        f'<switch><foreignObject requiredExtensions="x"/><path fill="{BLUE}" d="M4 34h40v8h-40z"/><path d="M0'
        f' 0h9v9h-9z"/></switch>'
    ),
    "margins-of-another-proportion": drawing(
        f'<path fill="{RED}" d="M-30-30h60v60h-60z"/><circle cx="40" cy="10" r="9" fill="{BLUE}"/>',
        'width="12pc" height="9pc" viewBox="0 0 48 20"',
    ),
    "aligned-at-the-edge": drawing(
        f'<circle cx="10" cy="10" r="10" fill="{RED}"/>',
        'width="4in" height="2in" viewBox="0 0 20 20" preserveAspectRatio="xMaxYMax"',
    ),
    "stretched-to-its-size": drawing(
        f'<circle cx="10" cy="10" r="8" fill="none" stroke="{RED}" stroke-width="3"/>',
        'width="96pt" height="3pc" viewBox="0 0 20 20" preserveAspectRatio="none"',
    ),
    "lengths-with-units": drawing(
        f'<rect x="1mm" y="5%" width="0.5in" height="20pt" fill="{RED}"/><circle cx="50%" cy="50%" r="10%"'
        f' fill="{BLUE}"/>',
        'width="200" height="100"',
    ),
    "stroke-beneath-its-fill": drawing(
        f'<path paint-order="stroke" fill="{GOLD}" stroke="{RED}" stroke-width="8" d="M12 12h24v24h-24z"/>'
    ),
    "entities-and-other-namespaces": (
        '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "a" "b" [<!ENTITY ns "http://www.w3.org/2000/svg"> <!ENTITY'
        ' c "#c02030">]>'
        '<s:svg xmlns:s="&ns;" xmlns:q="urn:q" width="48" height="48"><q:view><q:path d="no"/></q:view><s:g'
        ' q:label="x">'
        '<s:path fill="&c;" d="M4 4h40&#x76;40h-40z"/></s:g></s:svg>'
    ),
    "all-at-once": drawing(
        f'<style>.k{{fill:none;stroke:{BLUE};stroke-width:2}}</style><defs><clipPath id="c"><rect x="2" y="2"'
        f' width="20" height="20" rx="6"/>'
        f'</clipPath><g id="g"><path fill="{RED}" d="M0 0h24v24h-24z"/><path class="k" stroke-dasharray="3 1"'
        f' d="M0 0L24 24M24 0L0 24"/></g></defs>'
        '<g transform="translate(2 2) rotate(5)"><use href="#g" clip-path="url(#c)"/><svg x="20" y="20"'
        ' width="22" height="22"'
        ' viewBox="0 0 24 24"><use href="#g" transform="rotate(45 12 12)"/></svg></g>'
    ),
}
