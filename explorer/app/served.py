"""The app as its server runs it: pages, the calm page for faults, the door, and safe headers."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import streamlit as st

# Streamlit's own server is built on Starlette, which comes with it.
from starlette.middleware import Middleware
from streamlit import runtime

from explorer.app.calm import calm
from explorer.app.door import Door
from explorer.app.late import keep_what_is_typed
from explorer.app.logging_setup import begin_log
from explorer.app.memory import begin_tidying
from explorer.app.safe_headers import SafeHeaders
from explorer.app.uploads import Uploads
from explorer.app.whole import keep_callbacks_whole

begin_log()
begin_tidying()
keep_callbacks_whole()
keep_what_is_typed()
uploads = Uploads()


@asynccontextmanager
async def bounded(_: Any) -> AsyncIterator[None]:
    """While the server runs, the framework's holder of files keeps to our bounds."""
    uploads.guard(runtime.get_instance().uploaded_file_mgr)
    yield


app = st.App(
    Path(__file__).with_name("main.py"),
    middleware=[
        Middleware(SafeHeaders),
        Middleware(Door, names=st.get_option("server.allowedHosts"), uploads=uploads),
    ],
    lifespan=bounded,
    on_script_error=calm,
)
