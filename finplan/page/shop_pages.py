"""The page of the shop file: its text, with every problem beside its line; begun where there is none."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from finplan.page.folder import NewerTextError
from finplan.page.opened import Opened
from finplan.page.pages import Sent, by_line
from finplan.place import SHOP
from finplan.problems import FinplanError
from finplan.typesetting import rendered


@dataclass(frozen=True)
class ShopPages:
    """The routes of the shop file of one folder."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        routes.add_api_route("/shop", self.show, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/shop", self.write, methods=["POST"], response_class=HTMLResponse)
        routes.add_api_route("/shop/begin", self.begin, methods=["POST"], response_class=HTMLResponse)
        return routes

    def show(self) -> str:
        """Show the text of the shop file."""
        return self._page()

    def begin(self) -> Response:
        """Begin a shop file with usual answers, where there is none."""
        session = self.opened.session
        if session.folder.shop_text() is None:
            session.folder.put_shop(session.usual_shop("metric"), None)
        return RedirectResponse("/shop", 303)

    def write(self, sent: Sent) -> Response:
        """Write a whole text, right or wrong, in the place of the one it was made on."""
        words = sent.get("words", "").replace("\r\n", "\n")
        folder = self.opened.session.folder
        before = folder.shop_text()
        if before is not None and "\r\n" in before.words:
            words = words.replace("\n", "\r\n")
        try:
            folder.put_shop(words, sent.get("digest") or None)
        except FinplanError as error:
            status = 409 if isinstance(error, NewerTextError) else 422
            return HTMLResponse(self._page(wrong=str(error), words=words), status)
        return HTMLResponse(self._page(told="written"))

    def _page(self, *, told: str = "", wrong: str = "", words: str | None = None) -> str:
        session = self.opened.session
        text = session.folder.shop_text()
        shown = words if words is not None else "" if text is None else text.words
        problems = session.shop_problems()
        return rendered(
            "page/shop.html",
            there=text is not None,
            words=shown,
            digest="" if text is None else text.digest,
            lines=shown.count("\n") + 1,
            problems=by_line(problem for problem in problems if problem.file.name == SHOP),
            elsewhere=[problem for problem in problems if problem.file.name != SHOP],
            told=told,
            wrong=wrong,
        )
