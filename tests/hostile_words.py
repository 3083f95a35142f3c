"""Texts that want to be more than text, files that are no sheets, and a reader of pages that sees what came of them."""

from html.parser import HTMLParser

from hypothesis import strategies as st

BITS = (
    *("<script>alert(1)</script>", "<b>", "</pre>", "</li>", "<img src=x onerror=y>", "<!--", "&lt;", "**b**", "`", "$$x$$"),
    *("\\(", "[a](javascript:b)", "\n\n", "\r", "    ", "# ", "> ", "\x1b[31m", "\u202e", "\ud800", "'", '"'),
)
NASTY = st.lists(st.one_of(st.sampled_from(BITS), st.text(max_size=8)), max_size=8).map("".join)
SCRIPT = "<script>document.title='taken'</script><img src=x onerror=alert(1)> $$\\href{javascript:alert(1)}{x}$$ </pre>"

BAD_SHEETS = {
    "empty": (b"", "not whole JSON"),
    "cut short": (b'{"format": "call-for-heat sheet 2", "lear', "not whole JSON"),
    "nan": (b'{"format": NaN}', "no number"),
    "infinity": (b'{"thinking_s": -Infinity}', "no number"),
    "deep": (b"[" * 100_000, "not whole JSON"),
    "a list": (b"[]", "one JSON object"),
    "utf-16": ('{"format": "x"}'.encode("utf-16"), "not UTF-8"),
    "latin-1": ('{"format": "f\u00fcr"}'.encode("latin-1"), "not UTF-8"),
    "bom": (b"\xef\xbb\xbf{}", "not whole JSON"),
    "nul": (b"\0" * 100, "not whole JSON"),
    "digits": (b'{"thinking_s": ' + b"9" * 5000 + b"}", "not whole JSON"),
    "huge": (b" " * 500_000, "500000 bytes"),
    "not a sheet": (b'{"points": 100}', "it is no sheet"),
    "other fields": (b'{"format": "call-for-heat sheet 2", "learner": "kim", "job": {}, "points": 100}', "unknown"),
}
"""By name: the bytes of a file, and a word of the sentence that refuses it."""


class Tags(HTMLParser):
    """The tags of a page with their attributes, the places they lead to, its text, and what its scripts hold."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.tags, self.links, self.text, self.scripts = set(), set(), "", []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.add((tag, *(name for name, _ in attrs)))
        self.links |= {value.strip().lower() for name, value in attrs if name in ("href", "src", "action") and value}

    def handle_data(self, data):
        self.text += data
        if self.cdata_elem == "script":
            self.scripts.append(data)

    @property
    def acts(self):
        """Whatever could run: scripts' own words, handler attributes, places that are code."""
        handlers = {tag for tag in self.tags if any(name.startswith("on") for name in tag[1:])}
        return [
            *self.scripts,
            *sorted(handlers),
            *sorted(link for link in self.links if link.startswith(("javascript:", "data:text"))),
        ]


__all__ = ["BAD_SHEETS", "BITS", "NASTY", "SCRIPT", "Tags"]
