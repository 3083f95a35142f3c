"""Sphinx extension: on paper the answers of a page stand together at its end, on a page of their own.

On the screen an answer opens below its question. Paper cannot open anything, and an answer in sight spoils the question; so
the text of every dropdown is repeated in a section that only print shows, and print leaves the dropdowns out. A dropdown of the
class "reference" holds no answer and is not printed at all.
"""

from docutils import nodes

TITLE = "Answers"
SHOWN_IN_PRINT = "printed-answers"
REFERENCE = "reference"


def dropdowns(doctree: nodes.document) -> list[nodes.container]:
    """Return the page's dropdowns that hold answers, as they are before they become HTML."""
    every = [node for node in doctree.findall(nodes.container) if node.get("design_component") == "dropdown"]
    return [node for node in every if REFERENCE not in node["container_classes"]]


def copied(node: nodes.Element) -> nodes.Element:
    """Return a copy that is no target: each id and name belongs to the original."""
    copy = node.deepcopy()
    for inner in copy.findall(nodes.Element):
        inner["ids"], inner["names"] = [], []
    return copy


def collect(app, doctree):
    found = dropdowns(doctree)
    if not found:
        return
    answers = nodes.container(classes=[SHOWN_IN_PRINT])
    answers += nodes.paragraph("", TITLE, classes=["printed-answers-title"])
    for dropdown in found:
        answer = nodes.container(classes=["printed-answer"])
        title, *body = dropdown.children if dropdown.get("has_title") else (None, *dropdown.children)
        if title is not None:
            answer += nodes.paragraph("", "", *[child.deepcopy() for child in title.children], classes=["printed-answer-title"])
        answer += [copied(child) for child in body]
        answers += answer
    doctree += answers


def setup(app):
    app.connect("doctree-read", collect)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
