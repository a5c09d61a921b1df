"""The page on which a piece is printed, and the files it gives."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from finplan.page.guard import SHEET_POLICY
from finplan.page.opened import Opened
from finplan.page.printed import calendar_file, plan_to_print, sheet_pdf, tags_pdf
from finplan.page.ways import WaysOpen
from finplan.planning import Plan, with_stages
from finplan.sheet import sheet_html
from finplan.typesetting import rendered

_SCRIPT = re.compile(r"<script>.*?</script>", re.DOTALL)


@dataclass(frozen=True)
class Printing:
    """The routes of what is printed."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        routes.add_api_route("/piece/{name}/print", self.page, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/piece/{name}/sheet", self.sheet, methods=["GET"], response_class=HTMLResponse)
        routes.add_api_route("/piece/{name}/sheet.pdf", self.pdf, methods=["POST"])
        routes.add_api_route("/piece/{name}/tags.pdf", self.tags, methods=["POST"])
        routes.add_api_route("/piece/{name}/calendar.ics", self.calendar, methods=["POST"])
        return routes

    def page(self, name: str, ways: WaysOpen) -> str:
        """Show the sheet as it will be printed, and what else there is."""
        view = self.opened.seen(self.opened.session.view(name))
        return rendered(
            "page/print.html",
            name=name,
            title=str(view.reckoned.data.get("piece") or name),
            days=self.opened.days(view),
            ways=ways,
        )

    def sheet(self, name: str) -> Response:
        """Give the sheet of the timetable that is known, which is held nowhere by being looked at."""
        view = self.opened.seen(self.opened.session.view(name))
        days = self.opened.timetable(view)
        if view.reckoned.plan is None or days is None or not days.has_plan:
            return Response(status_code=404)
        # What keeps ticks is for a sheet that is a file of its own; in a frame of the page nothing runs.
        page = _SCRIPT.sub("", sheet_html(with_stages(view.reckoned.plan, timetable=days)))
        return HTMLResponse(page, headers={"content-security-policy": SHEET_POLICY})

    def pdf(self, name: str) -> Response:
        """Give the sheet as a PDF."""
        return self._file(name, "pdf", "application/pdf", sheet_pdf)

    def tags(self, name: str) -> Response:
        """Give the part tags as a PDF."""
        return self._file(name, "tags.pdf", "application/pdf", tags_pdf)

    def calendar(self, name: str) -> Response:
        """Give the calendar file."""
        return self._file(name, "ics", "text/calendar", calendar_file)

    def _file(self, name: str, ending: str, kind: str, make: Callable[[Plan], bytes]) -> Response:
        bench = self.opened.session
        data = make(plan_to_print(bench, bench.view(name)))
        named = quote(f"{name.rpartition('.')[0]}.{ending}")
        return Response(data, media_type=kind, headers={"content-disposition": f"attachment; filename*=UTF-8''{named}"})
