"""The words of the strip that shows the current marking, and of what it opens, which its own bundles hold."""

#: By the keys under which theme/scripts/strip/ reads them; {braces} are filled there.
STRIP: dict[str, str] = {
    "close": "Close",
    "undo": "Undo",
    "cancel": "Cancel",
    "marking_current": "Marking: {name}",
    "markings": "Markings of this job",
    "marking_add": "Add a marking",
    "marking_rename": "Rename",
    "marking_duplicate": "Duplicate",
    "marking_partner": "Make a partner",
    "marking_separate": "Separate from its partner",
    "marking_delete": "Delete",
    "marking_name": "Name of the marking",
    "marking_name_needed": "The name takes 1 to {most} characters.",
    "marking_save": "Keep this name",
    "marking_follows": "Follows “{name}”",
    "marking_deleted": "“{name}” is deleted.",
    "marking_back": "“{name}” is back.",
    "markings_most": "A job takes at most {most} markings.",
    "partner_question": "What is on the other side of “{name}”?",
    "partner_name": "{name}, other side",
}
