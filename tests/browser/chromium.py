"""Headless Chromium with nothing but this machine reachable, and a log of what a page asked for."""

from __future__ import annotations

import contextlib
import json
import tempfile
import threading
from pathlib import Path
from urllib.parse import urlparse

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
]


class Seen:
    """What the browser asked for and complained about."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.complaints: list[str] = []

    def outside(self) -> list[str]:
        """Every request to another host."""
        return sorted(
            {
                url
                for url in self.asked
                if urlparse(url).scheme in ("http", "https", "ws", "wss") and urlparse(url).hostname != "127.0.0.1"
            }
        )


@contextlib.contextmanager
def opened(program: str, width: int, height: int, *, touch: bool = False):
    """A fresh browser window of that size and what it saw; the program is Debian's chromium."""
    from playwright.sync_api import sync_playwright

    seen = Seen()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            str(Path(folder) / "profile"),
            executable_path=program,
            headless=True,
            args=FLAGS,
            viewport={"width": width, "height": height},
            has_touch=touch,
            is_mobile=touch,
        )
        context.on("request", lambda request: seen.asked.append(request.url))
        context.on("console", lambda message: seen.complaints.append(message.text) if message.type == "error" else None)
        context.on("weberror", lambda error: seen.complaints.append(str(error.error)))
        try:
            yield context.pages[0], seen
        finally:
            context.close()


@contextlib.contextmanager
def shown(html: Path):
    """The built site served on a free port; yields its address."""
    from solvers.screens.serving import serve

    with serve(html, 0) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield server.address
        finally:
            server.shutdown()


def words(value: object) -> str:
    """JSON, for a selector or a script."""
    return json.dumps(value)
