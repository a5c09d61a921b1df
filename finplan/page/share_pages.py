"""The page with the code for phones, for whoever started the server."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from finplan.moments import show_clock
from finplan.page.pages import Sent
from finplan.page.sharing import Phones
from finplan.typesetting import rendered


@dataclass(frozen=True)
class SharePages:
    """The routes of the code for phones."""

    phones: Phones | None
    """None where the page is not shared."""

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        routes.add_api_route("/share", self.share, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/share/turn-out", self.turn_out, methods=["POST"], response_class=HTMLResponse)
        return routes

    def share(self) -> str:
        """Show the code, and the phones that were let in."""
        phones = self.phones
        if phones is None:
            return rendered("page/share.html", code="", link="", let_in=(), may_edit=False)
        let_in = [(name, show_clock(at.astimezone())) for name, at in phones.each()]
        return rendered(
            "page/share.html",
            code=Markup(phones.picture()),  # noqa: S704 - made here, of an address
            link=phones.link,
            let_in=let_in,
            may_edit=phones.may_edit,
        )

    def turn_out(self, sent: Sent) -> Response:
        """Turn the phone out that is named, or all."""
        if self.phones is not None:
            self.phones.turn_out(sent.get("phone"))
        return RedirectResponse("/share", 303)
