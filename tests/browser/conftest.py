"""What every test in a browser starts from: the site as it is built, and the program that opens it."""

from pathlib import Path

import pytest
from browser.chromium import shown

from solvers.screens.site import build

BOOK = Path(__file__).resolve().parents[2] / "book"


@pytest.fixture(scope="session")
def site():
    """The book, built as the command line builds it, and served."""
    with shown(build(BOOK, progress=lambda step, share: None)) as address:
        yield address


@pytest.fixture(scope="session")
def chromium(needs_tool):
    """The browser, or a skip (a failure where continuous integration runs)."""
    return needs_tool("chromium")
