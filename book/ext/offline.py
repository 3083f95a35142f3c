"""Sphinx extension: the build fails when a page would ask another host for a script, a style, a picture or a font.

Links that a reader may follow are no such requests.
"""

import re
from html.parser import HTMLParser
from pathlib import Path

from sphinx.util import logging

log = logging.getLogger(__name__)

OUTSIDE = re.compile(r"\s*(?:https?:|wss?:)?//", re.IGNORECASE)
ASKED_BY_STYLE = re.compile(r"""(?:@import\s+|url\(\s*)["']?((?:https?:)?//[^"')\s;]+)""", re.IGNORECASE)
ASKING = {"src", "srcset", "poster", "data"}
FETCHED_LINKS = {"stylesheet", "icon", "preload", "modulepreload", "prefetch", "preconnect", "manifest"}


class Requests(HTMLParser):
    """Collects the outside addresses that a browser would fetch for a page."""

    def __init__(self):
        super().__init__()
        self.outside = []

    def handle_starttag(self, tag, attributes):
        values = {name: value or "" for name, value in attributes}
        asked = [values[name] for name in ASKING & set(values)]
        if tag == "link" and FETCHED_LINKS & set(values.get("rel", "").split()):
            asked.append(values.get("href", ""))
        self.outside += [value for value in asked if OUTSIDE.match(value)]
        self.outside += ASKED_BY_STYLE.findall(values.get("style", ""))


def outside(path: Path) -> list[str]:
    """Return the outside addresses that the file makes a browser fetch."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".css":
        return ASKED_BY_STYLE.findall(text)
    requests = Requests()
    requests.feed(text)
    return requests.outside


def check(app, exception):
    if exception or app.builder.format != "html":
        return
    root = Path(app.outdir)
    for path in sorted([*root.rglob("*.html"), *root.rglob("*.css")]):
        for address in outside(path):
            hint = " (a formula: write it as text)" if "mathjax" in address else ""
            log.warning("%s would ask another host for %s%s", path.relative_to(root).as_posix(), address, hint)


def setup(app):
    app.connect("build-finished", check)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
