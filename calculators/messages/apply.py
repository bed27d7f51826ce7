"""Reasons that the calculators of the stage apply give."""

FLUID_FIRST = "Begin with {fluid}: marked safe on all that it meets here. {why}"
FLUID_TEST = "No softening fluid is marked safe on all of this job. The mildest that may be tried is {fluid}. {why}"
FLUID_NONE = "No softening fluid suits this job: each is marked never on something that it meets."
FLUID_UNSEALED = "This ink runs in any water until it is sealed: no fluid suits an unsealed print."
FLUID_WRONG_FILM = "This film must never go through that printer. {why}"
DO_FLUID_TEST = "Try it on a painted test piece first, with the same film, seal, paint and clear."
DO_SEAL_FIRST = "Seal the sheet first, let the seal dry overnight, and ask again."
DO_MILD_ONLY = "Place it with setting fluid, relieve it by small cuts where it bridges, or choose a thinner film."
FLUID_PRACTICE = "The verdicts are common practice, for coats that are cured. A test piece tells more than any table."
FLUID_SHEET = "The safety data sheet of the fluid governs."
FLUID_UNKNOWN = "The table has nothing on this pair, so nothing is known of it: test first."
FLUID_KIN = "The table has nothing on this pair. Of {kin} it says: {why} That is a guess for this one (an estimate)."
FLUID_ESTIMATE = "{why} That is an estimate, so test first."
FLUID_BENEATH = "It lies under the gloss coat, and is met only where that has a gap. {why}"

MEETS_FILM, MEETS_INK, MEETS_SEAL, MEETS_GLOSS, MEETS_PAINT, MEETS_CLEAR = (
    "Film, sealed",
    "Bare print",
    "Seal",
    "Gloss coat",
    "Paint",
    "Protecting clear",
)
MEETS_BARE_FILM = "Film, not sealed"
STEP_INK, STEP_SEAL, STEP_SEALED, STEP_WATER, STEP_SETTLE = (
    "Ink, before the seal",
    "The seal itself",
    "Seal, before water",
    "In the water",
    "After softening fluid",
)
STEP_FROM = "at least {shortest}, usually {usual}"
STEP_AT_MOST = "{usual}, at most {longest}"
STEP_MIST = "mist first"
STEP_LIGHT = "light passes"
