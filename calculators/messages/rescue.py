"""About entries of the troubleshooting and symptoms."""

ENTRY_GOES_TO = "Save it as {name} in {folder}, or open it as a new file where the sources are."
ENTRY_IS_COMMON_PRACTICE = "It will say that it is common practice, with nothing published behind it. Name a document in the file if you have one."
ENTRY_TESTS_TELL_APART = "Read the tests once more: each has to come out differently for its own cause than for the others."
