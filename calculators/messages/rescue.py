"""About entries of the troubleshooting and symptoms."""

WORD_READ_AS = "{typed} was read as {read}."
WORD_UNKNOWN = "No entry has {typed} or a word that means the same."
FITS_BEST = "{title} has {found} of your {asked} words, or words that mean the same."
FITS_BEST_OF_ONE = "{title} has your word, or one that means the same."
SAY_MORE = "Add where it is, when it appeared, and what it looks like from the side."
NOTHING_KNOWN = (
    "The finder does not know enough of these words to tell. It knows English only: try other words, or look "
    "through the list by stage."
)
ALL_ENTRIES = "All entries, by stage"
ALL_ENTRIES_SEE = "Every title, with what you see."
WORD_BY_ANOTHER = "{typed} (there: {found})"
ENTRY_GOES_TO = "Save it as {name} in {folder}, or open it as a new file in the project."
ENTRY_IS_COMMON_PRACTICE = (
    "The entry will be marked as common practice, without a published source. If you have a source, name it in "
    "the file."
)
ENTRY_TESTS_TELL_APART = (
    "Read the tests once more: each must come out differently for its own cause than for the others."
)
ENTRY_IS_SENT = (
    "To send it, add the file to the project's sources as a pull request, or paste its text into the form for "
    "an entry there. CONTRIBUTING.md has the steps."
)
