"""The app as its server runs it: pages, the calm page for faults, the door, and safe headers."""

import asyncio
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import streamlit as st

# Streamlit's own server is built on Starlette, which comes with it.
from starlette.middleware import Middleware
from streamlit import runtime

from explorer.app.calm import calm
from explorer.app.copying import copied_beside
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
# Chosen by us: soon beside the two minutes that a session is kept for whoever comes back.
_SWEEP_S = 10.0


@asynccontextmanager
async def bounded(_: Any) -> AsyncIterator[None]:
    """While the server runs, the shelf is copied, and the holder of files keeps to our bounds."""
    server = runtime.get_instance()
    uploads.guard(server.uploaded_file_mgr)
    sweeping = asyncio.create_task(sweep(server))
    try:
        async with copied_beside():
            yield
    finally:
        sweeping.cancel()


async def sweep(server: runtime.Runtime) -> None:
    """Let the files go of sessions that are over, again and again."""
    while True:
        await asyncio.sleep(_SWEEP_S)
        patience_s = float(st.get_option("server.disconnectedSessionTTL"))
        uploads.sweep(server.is_active_session, time.monotonic(), patience_s)


app = st.App(
    Path(__file__).with_name("main.py"),
    middleware=[
        Middleware(SafeHeaders),
        Middleware(Door, names=st.get_option("server.allowedHosts"), uploads=uploads),
    ],
    lifespan=bounded,
    on_script_error=calm,
)
