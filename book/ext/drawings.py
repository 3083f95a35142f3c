"""Sphinx extension: drawings, readings, listings and beliefs that a page takes from the package while it is built.

    ```{drawing} solvers.pictures.examples:heater_loop_ladder
    :alt: Two heaters in parallel between W and C
    :caption: Each heater has its own loop.
    {"zones": 2}
    ```

    At the heater you read {reading}`solvers.pictures.examples:volts_at_heater`.

    ```{listing} solvers.chapters.listings:misconceptions
    ```

    {belief}`4`

A belief is one of the course's misconceptions by its number, in quotation marks, and a target for links. A listing is
Markdown, a table for instance, and is read as if it stood in the page. So no drawing and no number in the book is typed by
hand, and neither can differ from what the bench shows.

What each page took is noted, so that after a change of the package only the pages that would take something else are built
again: `changed` names them, and PAGES_AGAIN, in the environment of a build, has them read once more.
"""

import hashlib
import importlib
import json
import os
import re
from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import ClassVar
from xml.etree import ElementTree

from docutils import nodes
from docutils.parsers.rst import directives
from docutils.statemachine import StringList
from sphinx.util.docutils import SphinxDirective, SphinxRole

SVG = "{http://www.w3.org/2000/svg}svg"
DECLARATION = re.compile(r"^\s*<\?xml[^>]*\?>\s*")
TAKEN = "taken.json"  # beside the built pages: page -> what it took, each with a digest of the text
LONG = 30  # letters of a reading that may be broken over two lines, since a narrow screen cannot hold them
PAGES_AGAIN = "PAGES_AGAIN"  # names of pages, a space between


class Unusable(Exception):
    """What a page names cannot be shown; the message says why."""


def looked_up(target: str) -> Callable:
    """Return the function that `module:function` names, inside the package `solvers`.

    Raises Unusable with the functions there are when it names none.
    """
    module_name, _, name = target.strip().partition(":")
    if not name or not module_name.startswith("solvers."):
        raise Unusable(f"{target!r} is not module:function inside solvers, such as solvers.pictures.examples:heater_loop_ladder")
    try:
        module = importlib.import_module(module_name)
    except ImportError as error:
        raise Unusable(f"{target!r}: {error}") from error
    function = getattr(module, name, None)
    if not callable(function):
        raise Unusable(f"{module_name} has no function {name!r}; it has {sorted(getattr(module, '__all__', ()))}")
    return function


def arguments_in(target: str, content: Iterable[str]) -> dict:
    """Return the keyword arguments in a directive's body. Raises Unusable when it is no JSON object."""
    body = "\n".join(content).strip()
    try:
        arguments = json.loads(body) if body else {}
    except json.JSONDecodeError as error:
        raise Unusable(f"the body of {target} is not JSON: {error}") from error
    if not isinstance(arguments, dict):
        raise Unusable(f"the body of {target} must be a JSON object of arguments, not {body!r}")
    return arguments


def text_of(target: str, arguments: dict) -> str:
    """Return the text that the named function gives. Raises Unusable when it fails or gives something else."""
    function = looked_up(target)
    try:
        text = function(**arguments)
    except Exception as error:
        raise Unusable(f"{target}({arguments or ''}) failed: {type(error).__name__}: {error}") from error
    if not isinstance(text, str) or not text.strip():
        raise Unusable(f"{target} must give a text, not {text!r}")
    return text


def digest(text: str) -> str:
    """Return a digest of a text."""
    return hashlib.sha256(text.encode()).hexdigest()


def taken(env, target: str, arguments: dict) -> str:
    """Return the text that the named function gives, noted as taken by the page that is being read. Raises Unusable."""
    text = text_of(target, arguments)
    notes_of(env).setdefault(env.docname, []).append([target, arguments, digest(text)])
    return text


def notes_of(env) -> dict[str, list]:
    """Return what each page has taken; it lives and is kept with Sphinx's own knowledge of the pages."""
    if not hasattr(env, "taken_from_the_package"):
        env.taken_from_the_package = {}
    return env.taken_from_the_package


def changed(path: Path) -> list[str]:
    """Return the pages, of those noted in a file, that would now take something else, or that could not take it."""
    notes = json.loads(Path(path).read_text(encoding="utf-8"))
    now: dict[str, str | None] = {}
    for target, arguments, _ in (each for page in notes.values() for each in page):
        asked = json.dumps([target, arguments], sort_keys=True)
        if asked not in now:
            try:
                now[asked] = digest(text_of(target, arguments))
            except Unusable:
                now[asked] = None  # the build will say why
    return [
        page
        for page, each in notes.items()
        if any(now[json.dumps([target, arguments], sort_keys=True)] != was for target, arguments, was in each)
    ]


def svg_of(text: str, target: str) -> str:
    """Return the SVG element in a text that the named function gave. Raises Unusable when it is not well-formed SVG."""
    svg = DECLARATION.sub("", text).strip()
    try:
        root = ElementTree.fromstring(svg)
    except ElementTree.ParseError as error:
        raise Unusable(f"{target} does not give well-formed SVG: {error}") from error
    if root.tag != SVG:
        raise Unusable(f"{target} must give an <svg> element in the SVG namespace, not <{root.tag}>")
    return svg


def drawn_width(svg: str) -> float:
    """Return the width of a drawing in its own units, the third number of its viewBox."""
    return float(ElementTree.fromstring(svg).get("viewBox").split()[2])


class Drawing(SphinxDirective):
    """Inlines an SVG drawing; with a caption it is a numbered figure.

    The body, if any, is a JSON object of keyword arguments. `:alt:` says in words what is drawn and is required.
    `:wide:` keeps the drawing's letters legible on a narrow screen, where it scrolls. `:name:` makes it a target of numref.
    """

    required_arguments = 1
    has_content = True
    option_spec: ClassVar = {
        "alt": directives.unchanged_required,
        "caption": directives.unchanged_required,
        "name": directives.unchanged_required,
        "wide": directives.flag,
    }

    def run(self) -> list[nodes.Node]:
        target = self.arguments[0]
        try:
            arguments = arguments_in(target, self.content)
            if not self.options.get("alt"):
                raise Unusable(f"the drawing {target} needs :alt:, what it shows in words")
            svg = svg_of(taken(self.env, target, arguments), target)
        except Unusable as error:
            raise self.error(str(error)) from error
        wide = "wide" in self.options
        opening = f'<div class="drawing{" drawing-wide" if wide else ""}" role="img" aria-label="{escape(self.options["alt"])}"'
        scrolls = f' tabindex=0 style="--drawn: {drawn_width(svg):g}"' if wide else ""
        picture = nodes.raw("", f"{opening}{scrolls}>{svg}</div>", format="html")
        self.set_source_info(picture)
        if "caption" not in self.options:
            return [picture]
        figure = nodes.figure("", picture)
        self.set_source_info(figure)
        content, messages = self.state.inline_text(self.options["caption"], self.lineno)
        figure += nodes.caption(self.options["caption"], "", *content)
        if "name" in self.options:
            self.add_name(figure)
        else:
            figure["ids"].append(f"drawing-{self.env.new_serialno('drawing') + 1}")
        return [figure, *messages]


class Listing(SphinxDirective):
    """Reads the Markdown that the named function gives as a part of the page. The body, if any, is a JSON object of arguments."""

    required_arguments = 1
    has_content = True

    def run(self) -> list[nodes.Node]:
        try:
            text = taken(self.env, self.arguments[0], arguments_in(self.arguments[0], self.content))
        except Unusable as error:
            raise self.error(str(error)) from error
        listing = nodes.container(classes=["listing"])
        self.set_source_info(listing)
        self.state.nested_parse(StringList(text.splitlines(), self.arguments[0]), self.content_offset, listing)
        return [listing]


class Reading(SphinxRole):
    """Prints the text that `module:function` gives while the page is built, as a reading."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        try:
            text = taken(self.env, self.text, {})
            classes = ["reading", *(["reading-long"] if len(text) > LONG else [])]
            return [nodes.inline(self.rawtext, text, classes=classes)], []
        except Unusable as error:
            message = self.inliner.reporter.error(str(error), line=self.lineno)
            return [nodes.problematic(self.rawtext, self.rawtext)], [message]


class Belief(SphinxRole):
    """Prints a misconception by its number, as a target that `ref` can name."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        try:
            number = int(self.text)
            quoted = taken(self.env, "solvers.chapters.places:belief", {"number": number})
            anchor = taken(self.env, "solvers.chapters.places:belief_anchor", {"number": number})
        except (Unusable, ValueError) as error:
            message = self.inliner.reporter.error(f"no belief {self.text!r}: {error}", line=self.lineno)
            return [nodes.problematic(self.rawtext, self.rawtext)], [message]
        node = nodes.inline(self.rawtext, quoted, classes=["belief"], ids=[anchor])
        self.env.get_domain("std").anonlabels[anchor] = self.env.docname, anchor
        return [node], []


def forgotten(app, env, docname):
    notes_of(env).pop(docname, None)


def merged(app, env, docnames, other):
    notes_of(env).update({name: each for name, each in notes_of(other).items() if name in docnames})


def again(app, env, added, altered, removed):
    return [name for name in os.environ.get(PAGES_AGAIN, "").split() if name in env.found_docs]


def noted(app, exception):
    if exception is None and app.builder.format == "html":
        text = json.dumps(notes_of(app.env), sort_keys=True, indent=0)
        (Path(app.outdir).parent / TAKEN).write_text(text, encoding="utf-8")


def setup(app):
    app.connect("env-purge-doc", forgotten)
    app.connect("env-merge-info", merged)
    app.connect("env-get-outdated", again)
    app.connect("build-finished", noted)
    app.add_directive("drawing", Drawing)
    app.add_directive("listing", Listing)
    app.add_role("reading", Reading())
    app.add_role("belief", Belief())
    return {"parallel_read_safe": True, "parallel_write_safe": True}
