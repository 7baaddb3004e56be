"""Any design at all, as the tests of the core have it."""

import pytest
from hypothesis import strategies as st

from explorer.design import Design
from tests.explorer.conftest import _designs


@pytest.fixture(scope="session")
def designs() -> st.SearchStrategy[Design]:
    return _designs()
