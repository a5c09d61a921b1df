"""The pages, and the parts of them that an edit brings anew. They compute nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response, StreamingResponse

from finplan.catalogue import bundled_catalogue
from finplan.forms import forms
from finplan.page.asked import edit_of, path_of, writes_of_form
from finplan.page.begun import BeginError, begin, form_named, form_pictures, usual_sizes
from finplan.page.edits import EditError, SetValue
from finplan.page.field import NotTakenFields, value_at
from finplan.page.folder import NewerTextError, NoSuchPieceError
from finplan.page.opened import Opened
from finplan.page.shown import changed, changes_said, piece_shown
from finplan.page.starting import shape_pictures, starting_shapes
from finplan.page.ways import WAYS
from finplan.page.workbench import NotTakenError, View, Workbench
from finplan.page.workshop import pieces_listed
from finplan.problems import FinplanError, NotPossibleError, Problem, RefusedError
from finplan.typesetting import rendered

_MAX_FIELDS = 200


async def sent_form(request: Request) -> dict[str, str]:
    """Return what a form sent; of files nothing."""
    sent = await request.form(max_fields=_MAX_FIELDS, max_files=0)
    return {name: value for name, value in sent.items() if isinstance(value, str)}


def by_line(problems: Iterable[Problem]) -> list[tuple[int, list[Problem]]]:
    """Return problems of one file by their lines."""
    lines: dict[int, list[Problem]] = {}
    for problem in problems:
        lines.setdefault(problem.line, []).append(problem)
    return sorted(lines.items())


Sent = Annotated[dict[str, str], Depends(sent_form)]


@dataclass(frozen=True)
class Pages:
    """The routes of the pages of one folder."""

    opened: Opened

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(include_in_schema=False)
        get, post = ["GET"], ["POST"]
        for path, does, methods in (
            ("/", self.workshop, get),
            ("/new/{form}", self.form, get),
            ("/new/{form}", self.begin, post),
            ("/piece/{name}", self.piece, get),
            ("/piece/{name}/edit", self.edit, post),
            ("/piece/{name}/help", self.help, post),
            ("/piece/{name}/begin-shop", self.begin_shop, post),
            ("/piece/{name}/try", self.tried, post),
            ("/piece/{name}/undo", self.undo, post),
            ("/piece/{name}/redo", self.redo, post),
            ("/piece/{name}/work", self.work, get),
            ("/piece/{name}/days", self.days, get),
            ("/piece/{name}/shapes", self.shapes, get),
            ("/piece/{name}/file", self.file, get),
            ("/piece/{name}/file", self.write, post),
        ):
            routes.add_api_route(path, does, methods=methods, response_class=HTMLResponse)
        routes.add_api_route("/piece/{name}/events", self.events, methods=get, response_class=StreamingResponse)
        return routes

    def workshop(self) -> str:
        """Show the pieces of the folder."""
        session = self.opened.session
        workshop, problems = session.workshop()
        return rendered(
            "page/workshop.html",
            shop=workshop.shop.shop if workshop and workshop.shop_file.document else "",
            folder=session.folder.path.name,
            pieces=pieces_listed(session),
            problems=problems,
            forms=forms(),
            pictures=form_pictures(),
        )

    def form(self, form: str) -> str:
        """Show the questions of a starting form."""
        return self._form(form, {}, None)

    def begin(self, form: str, sent: Sent) -> Response:
        """Write the file of a new piece, and show it."""
        try:
            view, with_shop = begin(self.opened.session, form_named(form), sent)
        except BeginError as error:
            return HTMLResponse(self._form(form, sent, error), 422)
        except NotPossibleError as error:
            return HTMLResponse(self._form(form, sent, BeginError({"file": str(error)})), 422)
        return RedirectResponse(f"/piece/{quote(view.text.name)}{'?begun=shop' if with_shop else ''}", 303)

    def _form(self, name: str, sent: Mapping[str, str], error: BeginError | None) -> str:
        form = form_named(name)
        workshop, _ = self.opened.session.workshop()
        catalogue = workshop.catalogue if workshop else bundled_catalogue()
        us = workshop is not None and workshop.shop.units == "us"
        units = sent.get("units", "us" if us else "metric")
        questions = {"timber", "system", "deliver", *(size.name for size in form.sizes)}
        usual = usual_sizes(form, "us" if units == "us" else "metric")
        return rendered(
            "page/form.html",
            form=form,
            sizes=[(size, sent.get(f"size.{size.name}", usual[size.name])) for size in form.sizes],
            timbers=catalogue.timbers,
            systems=catalogue.systems,
            said=sent,
            units=units,
            error=error,
            elsewhere=[] if error is None else error.elsewhere(questions),
        )

    def piece(self, name: str, begun: Annotated[str, Query(max_length=10)] = "") -> str:
        """Show a piece; *begun* is ``shop`` where a shop file was begun with it."""
        view = self.opened.seen(self.opened.session.view(name))
        return rendered("page/piece.html", **self._work(view), shop_begun=begun == "shop")

    def work(self, name: str) -> str:
        """Show what of a piece changes with an edit."""
        return rendered("page/work.html", **self._work(self.opened.seen(self.opened.session.view(name))))

    def _work(
        self,
        view: View,
        told: str = "",
        wrong: str = "",
        typed: NotTakenFields | None = None,
    ) -> dict[str, object]:
        shown = piece_shown(self.opened.session, view, typed)
        return {
            "piece": shown,
            "days": self.opened.days(view),
            "told": told,
            "wrong_told": wrong,
            "ways": WAYS,
        }

    def edit(self, name: str, sent: Sent) -> Response:
        """Make an edit, and show the piece as it is then."""
        session = self.opened.session
        before = session.view(name)
        try:
            data = before.reckoned.data
            lengths = data.get("lengths")
            there = sent.get("path", "").startswith("[") and value_at(data, path_of(sent)) is not None
            edit = edit_of(sent, there=there, lengths=lengths if isinstance(lengths, str) else None)
            view = session.take(name, edit, sent.get("digest", ""))
        except NotTakenError as error:
            value = edit.value if isinstance(edit, SetValue) else sent.get("value", "")
            typed = {path_of(sent): (value, error.problems)}
            return self._page(before, told=f"not taken: {error}", typed=typed)
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            return self._page(before, wrong=str(error), status=409 if isinstance(error, NewerTextError) else 422)
        return self._page(self.opened.seen(view))

    def help(self, name: str, sent: Sent) -> Response:
        """Do what would help: all that it writes into the piece file and the shop file, in one step."""
        on, shop_on = sent.get("digest", ""), sent.get("shop_on", "")
        return self._changed(
            name, lambda session: session.take_all(name, writes_of_form(sent), on, shop_on), "done; undo takes it back"
        )

    def begin_shop(self, name: str, sent: Sent) -> Response:
        """Begin a shop file in the folder of a piece, with usual hours, air and tools."""
        told = "shop.yaml is begun with usual hours, air and tools: put in yours"
        return self._changed(name, lambda session: session.begin_shop(name, sent.get("digest", "")), told)

    def _changed(self, name: str, change: Callable[[Workbench], View], told: str) -> Response:
        session = self.opened.session
        before = session.view(name)
        try:
            view = change(session)
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            return self._page(
                session.view(name) if isinstance(error, NewerTextError) else before,
                wrong=f"not done: {error}",
                status=409 if isinstance(error, NewerTextError) else 422,
            )
        return self._page(self.opened.seen(view), told=told)

    def _page(
        self,
        view: View,
        *,
        told: str = "",
        wrong: str = "",
        typed: NotTakenFields | None = None,
        status: int = 200,
    ) -> Response:
        work = self._work(view, told, wrong, typed)
        if not told and not wrong:
            work["told"] = changes_said(work["piece"])  # type: ignore[arg-type]
        return HTMLResponse(rendered("page/work.html", **work), status)

    def tried(self, name: str, sent: Sent) -> Response:
        """Show what would come of an edit; nothing is written."""
        session = self.opened.session
        view = session.view(name)
        wrong = ""
        figures = changed(view.reckoned, None)
        try:
            path = path_of(sent)
            edit = edit_of(sent, there=value_at(view.reckoned.data, path) is not None, lengths=None)
            reckoned = session.tried(name, edit, sent.get("digest", ""))
            figures = changed(reckoned, view.reckoned)
            known = set(view.reckoned.problems)
            wrong = "; ".join(
                f"{problem.wrong}; {problem.expected}"
                for problem in reckoned.problems
                if problem.severity == "error" and problem not in known
            )
        except (NewerTextError, EditError, RefusedError) as error:
            wrong = str(error)
        return HTMLResponse(rendered("page/figures.html", figures=figures, wrong=wrong))

    def undo(self, name: str, sent: Sent) -> Response:
        """Go back to the text before the last edit."""
        return self._step(name, -1, sent)

    def redo(self, name: str, sent: Sent) -> Response:
        """Go forward again."""
        return self._step(name, 1, sent)

    def _step(self, name: str, by: int, sent: Mapping[str, str]) -> Response:
        try:
            view = self.opened.session.step(name, by, sent.get("digest", ""))
        except NoSuchPieceError:
            raise
        except FinplanError as error:
            status = 409 if isinstance(error, NewerTextError) else 422
            return self._page(self.opened.session.view(name), wrong=str(error), status=status)
        return self._page(self.opened.seen(view))

    def days(self, name: str) -> str:
        """Show the days of a piece as far as they are planned."""
        view = self.opened.seen(self.opened.session.view(name))
        return rendered("page/days.html", days=self.opened.days(view), name=name)

    def shapes(self, name: str) -> str:
        """Show what a new part can be begun with."""
        pictures = shape_pictures()
        shapes = [(shape, pictures.get(shape, "")) for shape in starting_shapes()]
        return rendered("page/shapes.html", shapes=shapes, name=name)

    def file(self, name: str) -> str:
        """Show the text of a piece file with its problems beside their lines."""
        return self._file(self.opened.session.view(name))

    def write(self, name: str, sent: Sent) -> Response:
        """Write a whole text."""
        words = sent.get("words", "").replace("\r\n", "\n")
        session = self.opened.session
        before = session.view(name)
        if "\r\n" in before.text.words:
            words = words.replace("\n", "\r\n")
        try:
            view = session.write(name, words, sent.get("digest", ""))
        except NewerTextError as error:
            return HTMLResponse(self._file(before, wrong=str(error), words=words), 409)
        except FinplanError as error:
            return HTMLResponse(self._file(before, wrong=str(error), words=words), 422)
        return HTMLResponse(self._file(self.opened.seen(view), told="written"))

    def _file(self, view: View, *, told: str = "", wrong: str = "", words: str | None = None) -> str:
        text = view.text.words if words is None else words
        return rendered(
            "page/file.html",
            name=view.text.name,
            title=str(view.reckoned.data.get("piece") or view.text.name),
            digest=view.text.digest,
            words=text,
            lines=text.count("\n") + 1,
            problems=by_line(problem for problem in view.reckoned.problems if problem.file.name == view.text.name),
            elsewhere=[problem for problem in view.reckoned.problems if problem.file.name != view.text.name],
            told=told,
            wrong=wrong,
            ways=WAYS,
        )

    async def events(self, name: str) -> StreamingResponse:
        """Tell a window what happens to its piece."""
        return StreamingResponse(self.opened.hub.events(name), media_type="text/event-stream")
