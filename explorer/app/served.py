"""The app as its server runs it: the pages, the calm page for faults, and safe headers."""

from pathlib import Path

import streamlit as st

# Streamlit's own server is built on Starlette, which comes with it.
from starlette.middleware import Middleware

from explorer.app.calm import calm
from explorer.app.copying import at_start
from explorer.app.late import keep_what_is_typed
from explorer.app.logging_setup import begin_log
from explorer.app.memory import begin_tidying
from explorer.app.safe_headers import SafeHeaders
from explorer.app.whole import keep_callbacks_whole

begin_log()
at_start()
begin_tidying()
keep_callbacks_whole()
keep_what_is_typed()
app = st.App(
    Path(__file__).with_name("main.py"),
    middleware=[Middleware(SafeHeaders)],
    on_script_error=calm,
)
