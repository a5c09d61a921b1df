"""What a piece costs, on a page in the words of the quote; and the page for its customer, looked at and printed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Form, Query
from fastapi.responses import HTMLResponse, Response

from finplan.page.guard import SHEET_POLICY
from finplan.page.opened import Opened
from finplan.page.ways import WAYS
from finplan.page.workbench import View
from finplan.planning import Plan, with_stages
from finplan.press import Press
from finplan.problems import FinplanError, NotPossibleError
from finplan.reading import Money
from finplan.sheet import offer_html
from finplan.telling import lacking_prices, quote_told, read_price, refuse_other_currency, under_cost
from finplan.typesetting import rendered

_Price = Annotated[str, Query(max_length=100)]
_PriceSent = Annotated[str, Form(max_length=100)]


@dataclass(frozen=True)
class Quoted:
    """The routes of what a piece costs."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        routes.add_api_route("/piece/{name}/quote", self.page, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/piece/{name}/offer", self.offer, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/piece/{name}/offer.pdf", self.pdf, methods=["POST"])
        return routes

    def page(self, name: str, price: _Price = "") -> str:
        """Show what a piece costs, and the page for its customer with the price that is asked."""
        view = self.opened.seen(self.opened.session.view(name))
        plan, told, wrong, low, offers = self._plan(view), None, "", "", False
        if plan is not None:
            told = quote_told(plan.quote, plan.units)
            try:
                asked = _asked(price, plan)
                offers, low = True, "" if asked is None else under_cost(plan.quote, asked)
            except FinplanError as error:
                wrong = str(error)
        return rendered(
            "page/quote.html",
            name=name,
            title=str(view.reckoned.data.get("piece") or name),
            days=self.opened.days(view),
            told=told,
            price=price,
            wrong=wrong,
            low=low,
            offers=offers,
            query=urlencode({"price": price}) if price else "",
            ways=WAYS,
        )

    def offer(self, name: str, price: _Price = "") -> Response:
        """Give the page for the customer, which is held nowhere by being looked at."""
        plan = self._plan(self.opened.seen(self.opened.session.view(name)))
        if plan is None:
            return Response(status_code=404)
        page = offer_html(plan, _asked(price, plan))
        return HTMLResponse(page, headers={"content-security-policy": SHEET_POLICY})

    def pdf(self, name: str, price: _PriceSent = "") -> Response:
        """Give the page for the customer as a PDF."""
        plan = self._plan(self.opened.seen(self.opened.session.view(name)))
        if plan is None:
            msg = "the days of this piece are not planned, and the page for its customer names one"
            raise NotPossibleError(msg)
        page = offer_html(plan, _asked(price, plan))
        with Press() as press:
            data = press.pdf(page)
        named = quote(f"{name.rpartition('.')[0]}-offer.pdf")
        headers = {"content-disposition": f"attachment; filename*=UTF-8''{named}"}
        return Response(data, media_type="application/pdf", headers=headers)

    def _plan(self, view: View) -> Plan | None:
        """Return the plan of a piece with its timetable; None as long as there is none in which it fits."""
        days = self.opened.timetable(view)
        if view.reckoned.plan is None or days is None or not days.has_plan:
            return None
        return with_stages(view.reckoned.plan, timetable=days)


def _asked(price: str, plan: Plan) -> Money | None:
    """Return the price that is asked; None for what the job typically costs.

    Raises
    ------
    FinplanError
        It is no price, or none is asked of a job of which not all has one.
    """
    if price.strip():
        asked = read_price(price)
        refuse_other_currency(plan.quote, asked)
        return asked
    lacking = lacking_prices(plan.quote, plan.units)
    if lacking or plan.quote.net is None:
        msg = (
            f"these have no price: {', '.join(lacking)}; give them one in the shop's file, or ask a price for the whole"
        )
        raise NotPossibleError(msg)
    return None
