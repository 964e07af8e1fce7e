"""Photos: taken in with the journal, shown beside its lines."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from knowngood.app.photo import photo_line, photo_of
from knowngood.app.workshop import Workshop
from knowngood.jobs.photos import MOST_BYTES
from knowngood.web.desk import Desk, Form, must_be_own
from knowngood.web.keeping import Kept, keep_once, saved

AROUND = 10_000  # bytes of a form around its file


class PhotoPages:
    """Routes of photos."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def routes(self) -> list[Route]:
        """What is answered."""
        return [
            Route("/car/{code}/photo", self.take_in, methods=["POST"]),
            Route("/car/{code}/photo/{name}", self.show, methods=["GET"]),
        ]

    async def take_in(self, request: Request) -> Response:
        """Keep a photo and the line that says what it shows."""
        code = request.path_params["code"]
        must_be_own(request)
        length = request.headers.get("content-length")
        if length is None:
            raise HTTPException(411)  # without it, what is sent could grow without end
        if not length.isdigit() or int(length) > MOST_BYTES + AROUND:
            raise HTTPException(413)
        async with request.form(max_files=1, max_fields=10) as sent:
            fields = [(name, value) for name, value in sent.multi_items() if isinstance(value, str)]
            file = sent.get("photo")
            data = b"" if file is None or isinstance(file, str) else await file.read(MOST_BYTES + 1)
        form = Form(fields)

        def keep(workshop: Workshop, job: str, at: str) -> Kept:
            photo = photo_line(workshop, job, data, form.get("words"), at=at)
            return Kept(photo.words, photo.entries)

        return await saved(request, lambda: keep_once(self.desk, code, form, keep), f"/car/{quote(code)}/journal")

    async def show(self, request: Request) -> Response:
        """The picture, while a line of the car names it; what could not be read as one is handed out as a file only."""

        def read() -> Path:
            with self.desk.open_workshop() as workshop:
                return photo_of(workshop, request.path_params["code"], request.path_params["name"])

        path = await run_in_threadpool(read)
        if path.suffix == ".jpg":
            return FileResponse(path, media_type="image/jpeg")
        return FileResponse(path, media_type="application/octet-stream", filename=path.name)
