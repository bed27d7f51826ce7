"""Files as fields and as results."""

from __future__ import annotations

from dataclasses import MISSING, dataclass
from typing import Any

from calculators import messages, units
from calculators.declare import result
from calculators.declare.field import Field, Submission, SubmittedFile, Trouble, When, declared
from calculators.values import NamedFile

__all__ = ["FileField", "FileResult", "any_file", "file_result"]

NO_FILE_YET = "{Label} has no file yet. Choose one"


@dataclass(frozen=True, kw_only=True)
class FileField(Field):
    """A file's name and bytes; ``accept`` is the hint for the file picker."""

    accept: str = ""
    most_bytes: int = 64 * 1024 * 1024
    kind = "file"
    takes = "a file"
    sent_to_page = False

    def taken(self, submitted: Submission) -> Any:
        """Return the contents of the file, or the default. Raises Trouble."""
        if submitted.typed is not MISSING and submitted.typed is not None:
            raise self.takes_only("", submitted.display)
        file = submitted.file()
        if file is None:
            if not self.optional:
                raise self.trouble(NO_FILE_YET)
            return submitted.default
        if not file.data:
            raise Trouble(messages.EMPTY_FILE.format(name=file.name))
        return self.opened(file)

    def opened(self, file: SubmittedFile) -> Any:
        """Return the contents of a file that is not empty. Raises Trouble."""
        return NamedFile(file.name, "", file.data)

    def inspected(self, file: SubmittedFile) -> dict[str, Any]:
        """Return what the page needs to know before decoding a file. Raises Trouble."""
        return {}

    def details(self) -> dict[str, Any]:
        """Return which files are taken."""
        return {"accept": self.accept, "most_bytes": self.most_bytes}


@dataclass(frozen=True, kw_only=True)
class FileResult(result.Result):
    """A ``NamedFile`` or None; ``shares`` names the job's value that the reader may keep it as.

    A text may be ``proposed`` as a new file in that folder of the project, and is then offered for copying too.
    """

    shares: str = ""
    proposed: str = ""
    kind = "file"
    section = result.FILES

    def parts(self, value: NamedFile, display: units.Display) -> dict[str, Any]:
        """Return name, media type and size in bytes."""
        return {"name": value.name, "media": value.media, "size": len(value.data)}

    def plain(self, value: NamedFile | None) -> dict[str, Any] | None:
        """Return name, media type and size in bytes."""
        return None if value is None else {"name": value.name, "media": value.media, "size": len(value.data)}

    def saved(self, value: NamedFile | None) -> NamedFile | None:
        """Return the file."""
        return value

    def details(self) -> dict[str, Any]:
        """Return what may be done with the file besides saving it."""
        return {"shares": self.shares, "proposed": self.proposed}


def any_file(label: str, *, accept: str = "", help: str = "", without: str = "", only_when: When = None) -> Any:
    """Declare a file of any kind, which may be left out and is then None."""
    return declared(
        FileField(label=label, help=help, accept=accept, optional=True, without=without, only_when=only_when), None
    )


def file_result(label: str, *, shares: str = "", proposed: str = "", help: str = "") -> Any:
    """Declare a file that is handed over, or None.

    It may be kept as the job's value ``shares`` or ``proposed`` for a folder.
    """
    return result.declared(FileResult(label=label, help=help, shares=shares, proposed=proposed))
