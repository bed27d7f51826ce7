"""Colour, text, yes or no and a file in; a colour, words, a link, a drawing and a file out."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import (
    NEITHER,
    Calculator,
    Figure,
    Link,
    NamedFile,
    any_file,
    colour,
    colour_result,
    figure,
    file_result,
    link,
    text,
    words,
    yes_no,
)


@dataclass(frozen=True, kw_only=True)
class SmallKindsInputs:
    name: str = text("Name", default="Teasel", most=20)
    remark: str = text("Remark", default="", most=40, may_be_empty=True)
    paint: str = colour("Paint", default="#7a2232")
    mirrored: bool = yes_no("Mirrored", default=False)
    notes: NamedFile | None = any_file("Notes", accept=".txt", without="none are read.")


@dataclass(frozen=True, kw_only=True)
class SmallKindsOutputs:
    shown: str = words("Shown")
    paint: str = colour_result("Paint")
    elsewhere: Link | None = link("How large names are")
    drawing: Figure = figure("The name in its paint")
    label: NamedFile = file_result("Label", shares="notes", help="A line of text.")
    notes: str | None = words("The notes begin")


def small_kinds(inputs: SmallKindsInputs) -> SmallKindsOutputs:
    """Return the name, mirrored where asked for, its paint, a link unless it is mirrored, a drawing and a file that
    holds the name.
    """
    text = inputs.name[::-1] if inputs.mirrored else inputs.name
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 20" role="img">'
        f'<rect width="100" height="20" fill="{inputs.paint}"/></svg>'
    )
    return SmallKindsOutputs(
        shown=text,
        paint=inputs.paint,
        elsewhere=None if inputs.mirrored else Link(f"The size of {inputs.name}", "size/scale-size/"),
        drawing=Figure(svg=svg, alt=f"A bar of {inputs.paint}."),
        label=NamedFile(name="label.txt", media="text/plain", data=f"{text}\n".encode()),
        notes=inputs.notes.data[:20].decode("utf-8", "replace") if inputs.notes else None,
    )


SMALL_KINDS = Calculator(
    id="small-kinds",
    title="What is it called?",
    summary="Shows a name in its paint.",
    stage="artwork",
    about=NEITHER,
    inputs=SmallKindsInputs,
    outputs=SmallKindsOutputs,
    compute=small_kinds,
)
