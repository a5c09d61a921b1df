"""The page in the browser: a local server whose pages show the pieces of a folder and let them be changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finplan.lazy import lazily

if TYPE_CHECKING:
    from finplan.page.server import Sharing, serve

__all__ = ["Sharing", "serve"]

if not TYPE_CHECKING:
    __getattr__ = lazily(__name__, {"server": ("Sharing", "serve")})
