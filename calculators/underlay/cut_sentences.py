"""Sentences about pieces that are cut. They stand here and not in ``messages``, which every page loads."""

# what is made
BACKING_NAME = "Backing piece"
WHITE_NAME = "Stencil for white beneath"
COLOUR_NAME = "Stencil {number} of {count}, {colour}"
OUTLINE_NAME = "Outline of the marking"
CUT_OUTS_NAME = "Cut-outs"
FRAME_NAME = "Frame round the waste"
WASTE_NAME = "Cuts through the waste"
WHITE_FILM = "White film"
PRINTED_FILM = "The printed film"
MASK_SHEET = "Masking film or self-adhesive vinyl"
LOOSE_SHEET = "Thin card or polyester sheet"
TITLE = "{what} for {name}"

# while it is made
READING_WHITE = "Reading its white areas"
MAKING_STENCILS = "Making stencil {number} of {count}"
LAYING_BRIDGES = "Laying bridges in stencil {number} of {count}"
JUDGING = "Looking for places that are hard to cut"
WRITING_FILES = "Writing the files"

# the verdict
ALL_WIDE_ENOUGH = "No place is narrower, smaller or sharper than a blade can cut by the limits below."
OF_KIND = {
    "small-piece": "{places} ({letters}): pieces shorter than {least_mm}, which are hard to lift and to hold.",
    "small-opening": "{places} ({letters}): openings narrower than {least_mm} all over.",
    "thin": "{places} ({letters}): material narrower than {least_mm} between two cuts.",
    "sharp": "{places} ({letters}): corners sharper than {angle}°, which a blade turns badly.",
    "touching": "{places} ({letters}): outlines that touch, so that the piece falls apart there.",
    "loose": "{places} ({letters}): parts that fall out, since no bridge holds them.",
    "left-out": "{places} ({letters}): islands smaller than a bridge, which are left out.",
    "starved": "{places} ({letters}): openings of which bridges cover more than a tenth.",
    "vanished": "{places} ({letters}): parts so narrow that nothing of them is left.",
}
WHAT_TO_DO = {
    "small-piece": "Leave them out, or paint them by hand.",
    "small-opening": "Make them wider in the artwork, or paint them by hand.",
    "thin": "Leave a wider strip there, or make the marking larger.",
    "sharp": "Cut each from both sides towards its tip.",
    "touching": "Part the outlines in the artwork.",
    "loose": "Give each a bridge, or use an adhesive mask.",
    "left-out": "Paint them by hand afterwards, use an adhesive mask, or make the bridges thinner.",
    "starved": "Use an adhesive mask, make the marking larger, or make the bridges thinner.",
    "vanished": "Choke less, or leave these parts without.",
}
AT_PLACE = {
    "small-piece": "Piece {size_mm} long",
    "small-opening": "Narrow opening, {size_mm} long",
    "thin": "Strip {size_mm} wide",
    "sharp": "Corner of {angle}°",
    "touching": "Outlines touch",
    "loose": "Part {size_mm} long falls out",
    "left-out": "Island {size_mm} long is left out",
    "starved": "Bridges cover too much",
    "vanished": "Nothing is left of a part {size_mm} long",
}
AND_MORE = "{letters} and {count} more"
NOTHING_WIDE = "Nothing is left to cut: all of it is narrower than the choke or the rim."
NO_HOLES = "The marking has no holes to cut out."
NO_WHITE = "Nothing in the picture is printed or wanted white."
MARK_HOLES = "Mark a white area as a hole if the paint or a window should show there."
CHOKE_LESS = "Choke less, or make the marking larger."
MANY_COLOURS = "It has {count} colours, and each needs a stencil: more than {most} are not made."
JOIN_COLOURS = "Reduce it to fewer colours first."
MANY_POINTS = "Its outlines have {count} points, more than the {most} that are cut in reasonable time."
DRAW_SIMPLY = "Draw it again more simply, or trace it with fewer colours."
WIDER_THAN_SHEET = "With its frame each piece is {piece_mm} wide, and the sheet {sheet_mm}."
TOO_LARGE = "With its frame each piece is {width_mm} by {height_mm}: too large for these files."
LOST = "The lines lost something of the picture: thin strokes, points of small shapes, or colours."
TRACE_IT = "Trace the picture to see where. A larger picture without compression loses less."
GRAINY = "The picture has grain, which makes its outlines uneven."
WITHOUT_GRAIN = "Clean the picture first, or use a larger one."
SMALLER = "Make it smaller, or cut it in parts."
WIDER_SHEET = "Type the width of a wider sheet."
BESIDE = "All pieces do not fit on one sheet of this width: in the files they lie side by side."
FEWER_DRAWN = "The files have {drawn} of each piece. The note asks for {copies}."

# what is to be known
SAME_CROSSES = "Register crosses are at the same place in every piece and in the proof: draw them or cut them lightly."
CROSSES_FURTHER = "With so wide a rim the register crosses lie further out than in other pieces and in the proof."
MASK_ISLANDS = "{islands} on the transfer tape: leave the tape on until the mask is pressed down."
LOOSE_GAPS = "Bridges leave gaps in the paint: touch them in with a brush."
LOST_TO_BRIDGES = "Bridges cover {percent} % of the openings."
CHOKED = "White ends {choke_mm} inside the colour. Where white is the visible edge it keeps its size."
TIPS = "A choke draws tips back further: that of a five-pointed star (36°) by {tip_mm}."
SPREAD = "Spray light colours first: each goes on {spread_mm} beneath the next."
MIRRORED = "All lines are mirrored already, with their crosses."
LIMITS = "Limits are estimates: {piece_mm} for pieces, {opening_mm} for openings and strips. Type those of your cutter."
NO_CORRECTION = "Lines are where the edge must be. Set blade correction in the cutter."
NEVER_VINYL = "Never laser-cut vinyl: it gives off hydrogen chloride."

#: What the page says while bridges are touched.
BRIDGE_WORDS = {
    "chosen": "Bridge {number}: take it away, or tap the place where it shall go.",
    "off": "Take it away",
    "leave": "Leave it",
    "gone": "Bridge {number} was taken away. Tap it to bring it back.",
    "back": "Bridge {number} is back.",
    "moved": "Bridge {number} was moved to {place}.",
    "add": "Add a bridge at {place}",
    "added": "A bridge was added at {place}.",
}

# problems
TANGLED = "The outlines of this picture cross each other too often to be cut"
TANGLED_HINT = "Simplify the drawing, trace it with fewer colours, or type a larger width."
CHANGE_UNREAD = "Changes of bridges take numbers with “off”, “at” and a place, or “new at” and a place"
CHANGE_TYPED = "{typed} is none of them. Examples: 2 off, 3 at 12.5 8, new at 4 9."
NO_SUCH_BRIDGE = "There is no bridge {number} to change"
BRIDGES_ARE = "The drawing has their numbers."
UNMARKED = "not marked"
NO_GAP_THERE = "There is no opening at {x} {y} that a bridge could cross"
GAP_HINT = "Lengths are in mm from the left and from the top of the picture. Tap an opening in the drawing."

# the drawing
ALT = "{pieces} with register crosses{frame}. Cut lines are dashed. {marked}"
ALT_FRAME = " and a frame"
ALT_CLEAN = "No place is marked."
ALT_PLACES = "Marked places: {places}."
ALT_BRIDGES = "Bridges across the openings: {count}."
