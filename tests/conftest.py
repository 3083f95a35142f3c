"""What every test shares: Hypothesis profiles, and tools that may be missing at home but never in CI."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

IN_CI = bool(os.environ.get("CI"))

settings.register_profile("local", deadline=None, max_examples=40)
settings.register_profile("ci", deadline=None, max_examples=40, derandomize=True, print_blob=True)
settings.load_profile("ci" if IN_CI else "local")


@pytest.fixture(scope="session")
def needs_tool() -> Callable[[str], str]:
    """The path of a program the test runs; where it is missing the test is skipped, but fails when CI is set."""

    def found(name: str) -> str:
        # Node comes with the packages of requirements.txt, beside the Python that runs the tests.
        path = shutil.which(name) or shutil.which(name, path=str(Path(sys.executable).parent))
        if path is None and IN_CI:
            pytest.fail(f"{name} is not installed, and CI must not skip what needs it")
        if path is None:
            pytest.skip(f"{name} is not installed")
        return path

    return found
