"""Shows the built site on this machine."""

import errno
import os
import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from .errors import PortTaken, SiteError

__all__ = ["HOST", "TYPES", "Serving", "serve"]

HOST = "127.0.0.1"

# What a browser insists on: a module script must be JavaScript, and WebAssembly is compiled while it arrives.
TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
    ".whl": "application/octet-stream",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}


class Files(SimpleHTTPRequestHandler):
    """Sends the site's files: right types, no listing of folders, never an old copy from the browser's cache."""

    extensions_map = SimpleHTTPRequestHandler.extensions_map | TYPES

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def list_directory(self, path):
        self.send_error(404, "No such page")

    def log_message(self, format, *values) -> None:
        pass


class Serving(ThreadingHTTPServer):
    """A server that is bound to its port; `serve_forever()` answers, leaving the `with` block frees the port."""

    daemon_threads = True
    # On Windows the option would let two servers share a port, and hide that it is taken.
    allow_reuse_address = os.name != "nt"
    allow_reuse_port = False

    def handle_error(self, request, client_address) -> None:
        """Stay silent when a browser went away in the middle of an answer; that is no error."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)

    @property
    def address(self) -> str:
        """Return the address to open in a browser."""
        return f"http://{HOST}:{self.server_address[1]}/"


def serve(html_dir: Path, port: int) -> Serving:
    """Return a server for the folder, on this machine alone; port 0 picks a free one.

    The caller prints `address` and calls `serve_forever()`. Raises PortTaken, and SiteError when there is no site.
    """
    html_dir = Path(html_dir)
    if not (html_dir / "index.html").is_file():
        raise SiteError(f"there is no built site in {html_dir}: index.html is missing. Build the book first.")
    if not 0 <= port <= 65535:
        raise SiteError(f"{port} is not a port; a port is a number from 0 to 65535, and 0 picks a free one")
    try:
        return Serving((HOST, port), partial(Files, directory=os.fspath(html_dir)))
    except OSError as error:
        if error.errno in (errno.EADDRINUSE, errno.EACCES):
            raise PortTaken(
                f"port {port} is taken by another program, or not allowed. "
                "Choose another one, or 0 to let the system pick a free one."
            ) from None
        raise
