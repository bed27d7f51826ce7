"""The nine stages of the work."""

#: The nine stages in the order of the work, each with the question that it answers.
STAGES: dict[str, str] = {
    "size": "How big is it on this model?",
    "artwork": "Is the picture good enough, and what in it is meant?",
    "underlay": "Will the paint show through, and what goes beneath?",
    "sheet": "How does all of it fit on this film, with spares?",
    "print": "Which film, which settings, which side?",
    "seal": "When is it dry, and how much sealer does it need?",
    "apply": "Will it lie down here, and in which order?",
    "finish": "How is it protected, and how does its edge vanish?",
    "rescue": "What went wrong, and how is it undone?",
}
