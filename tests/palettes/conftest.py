"""Shared by the tests of colour: an import of colour-science that keeps quiet about plotting."""

import warnings
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def colour() -> ModuleType:
    with warnings.catch_warnings():
        # It warns that its plotting part is missing, which nothing here uses.
        warnings.simplefilter("ignore")
        import colour as library
    return library
