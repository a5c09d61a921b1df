"""The files of a catalogue as they are written, each read when it is asked for, and once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from finplan.reading import Document, read_document


@dataclass(frozen=True, eq=False)
class CatalogueFiles:
    """The files in a folder, one a kind."""

    folder: Path
    _read: dict[str, Document] = field(default_factory=dict, repr=False)

    def document(self, kind: str) -> Document:
        """Return the file of a kind, such as ``finishes``; raises as ``read_document``."""
        if kind not in self._read:
            self._read[kind] = read_document(self.folder / f"{kind}.yaml")
        return self._read[kind]

    def written(self, kind: str) -> dict[str, Any]:
        """Return the records of a kind as they are written."""
        return self.document(kind).data
