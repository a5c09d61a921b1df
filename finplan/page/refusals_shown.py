"""What is refused is shown on the page that asked: to a script of the page it is an answer, not a failure to load."""

from __future__ import annotations

from starlette.types import ASGIApp, Message, Receive, Scope, Send

_REFUSED = (409, 422)


class RefusalsShown:
    """Gives what is refused to htmx as any other page, so that browsers note no error; all others hear the status."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on."""
        asked = dict(scope.get("headers", ()))

        async def shown(message: Message) -> None:
            if message["type"] == "http.response.start" and message["status"] in _REFUSED:
                kind = dict(message["headers"]).get(b"content-type", b"")
                if kind.startswith(b"text/html"):
                    message = {**message, "status": 200}
            await send(message)

        await self._app(scope, receive, shown if asked.get(b"hx-request") == b"true" else send)
