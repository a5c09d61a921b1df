"""The application: pages, their parts, and the JSON interface of one folder."""

from __future__ import annotations

from functools import partial

from fastapi import FastAPI, Request
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse, PlainTextResponse, Response
from starlette.exceptions import HTTPException

from finplan.bench import NotHeldError
from finplan.page.api import Api
from finplan.page.api_page import api_page
from finplan.page.bench_api import BenchApi
from finplan.page.bench_pages import BenchPages
from finplan.page.fault_pages import FaultPages
from finplan.page.folder import NewerTextError, NoSuchPieceError
from finplan.page.jobs import BeforeError, MeanwhileError
from finplan.page.opened import Opened
from finplan.page.pages import Pages
from finplan.page.printing import Printing
from finplan.page.quoted import Quoted
from finplan.page.refusals_shown import RefusalsShown
from finplan.page.share_pages import SharePages
from finplan.page.sharing import Phones
from finplan.page.shop_pages import ShopPages
from finplan.problems import FinplanError
from finplan.resources import data_dir
from finplan.version import __version__

_STATIC = {
    "page.css": "text/css",
    "bench.css": "text/css",
    "page.js": "text/javascript",
    "bench.js": "text/javascript",
    "htmx.min.js": "text/javascript",
    "Inter-Regular.otf": "font/otf",
    "Inter-SemiBold.otf": "font/otf",
}


def make_app(opened: Opened, phones: Phones | None = None) -> FastAPI:
    """Return the application on a folder that is open; *phones* are those of the shop's network, if it is shared."""
    app = FastAPI(
        title="finplan",
        version=__version__,
        description="The pieces of one folder: their texts, edits of them, what comes of them, and the bench.",
        docs_url=None,
        redoc_url=None,
    )
    app.include_router(Pages(opened).router())
    app.include_router(ShopPages(opened).router())
    app.include_router(Printing(opened).router())
    app.include_router(Quoted(opened).router())
    app.include_router(BenchPages(opened.session, opened.jobs).router())
    app.include_router(FaultPages(opened.session, opened.jobs).router())
    app.include_router(SharePages(phones).router())
    app.include_router(Api(opened).router())
    app.include_router(BenchApi(opened.session, opened.jobs).router())
    app.add_api_route("/docs", partial(api_page, app), include_in_schema=False, response_class=HTMLResponse)
    app.add_api_route("/static/{name}", static, include_in_schema=False)
    app.add_exception_handler(FinplanError, _refused)
    app.add_middleware(RefusalsShown)
    return app


def static(name: str) -> Response:
    """Give a file of the page itself."""
    if name not in _STATIC:
        raise HTTPException(404)
    folder = data_dir("templates")
    file = folder / "fonts" / name if name.endswith(".otf") else folder / "page" / "static" / name
    return FileResponse(file, media_type=_STATIC[name], headers={"cache-control": "max-age=3600"})


def _refused(request: Request, error: Exception) -> Response:
    missing, meanwhile = (NoSuchPieceError, NotHeldError), (NewerTextError, MeanwhileError)
    status = 404 if isinstance(error, missing) else 409 if isinstance(error, meanwhile) else 422
    if request.url.path.startswith("/api/"):
        told = "no plan of it is held" if isinstance(error, NotHeldError) else str(error)
        return JSONResponse({"detail": told, "before": isinstance(error, BeforeError)}, status)
    return PlainTextResponse(f"{error}\n", status)
