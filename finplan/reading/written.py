"""What a maker wrote: a file, or a text that stands in none."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from finplan.reading.document import Document, document_of, read_document


@dataclass(frozen=True, slots=True)
class Written:
    """A file, or a text with the name it goes by in problems."""

    file: Path
    text: str | None = None
    """What is written, where it stands in no file."""
    lies: Path | None = None
    """The folder that a text lies in, where it is to be a file of it; None where it lies nowhere."""

    @classmethod
    def of(cls, given: Path | Written) -> Written:
        """Return what is given as what is written: a path means its file."""
        return given if isinstance(given, Written) else cls(given)

    @property
    def folder(self) -> Path | None:
        """Where the files that it names lie; a text that lies nowhere names none."""
        return self.file.parent if self.text is None else self.lies

    def document(self) -> Document:
        """Return it as plain data with lines; raises as ``read_document``."""
        return read_document(self.file) if self.text is None else document_of(self.text, self.file)
