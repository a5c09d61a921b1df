"""Templates as code, kept as Python keeps its modules, so that a command does not compile them anew each time."""

from __future__ import annotations

import hashlib
import pickle
import sys
from contextlib import suppress
from importlib.util import cache_from_source
from pathlib import Path

import jinja2
from jinja2.bccache import Bucket, BytecodeCache

from finplan.problems import NotPossibleError
from finplan.whole_file import write_whole


class KeptCode(BytecodeCache):
    """The code of the templates of a folder, in the ``__pycache__`` of that folder.

    Where nothing may be written there they are compiled each time, as modules are; ``PYTHONDONTWRITEBYTECODE`` and
    ``PYTHONPYCACHEPREFIX`` mean what they mean for modules.

    Parameters
    ----------
    folder
        Where the templates are
    environment
        What they are compiled in
    """

    def __init__(self, folder: Path, environment: jinja2.Environment) -> None:
        self._folder = folder
        self._settings = f"{environment.autoescape} {environment.trim_blocks} {environment.lstrip_blocks}"

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        """Return the name of a template in a flat folder."""
        return name.replace("/", ".")

    def get_source_checksum(self, source: str) -> str:
        """Return what is another one where the code would be."""
        return hashlib.sha256(f"{jinja2.__version__}\n{self._settings}\n{source}".encode()).hexdigest()

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take the code that is kept; none where it is of another text, or cannot be read."""
        with suppress(OSError, EOFError, ValueError, pickle.UnpicklingError):
            bucket.bytecode_from_string(self._file(bucket).read_bytes())

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code, where that may be."""
        if sys.dont_write_bytecode:
            return
        file = self._file(bucket)
        with suppress(OSError, NotPossibleError):
            file.parent.mkdir(parents=True, exist_ok=True)
            write_whole(bucket.bytecode_to_string(), file)

    def _file(self, bucket: Bucket) -> Path:
        return Path(cache_from_source(str(self._folder / bucket.key) + ".py"))
