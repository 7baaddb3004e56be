"""What a maker sees where the program itself is at fault: what happened, what is safe, what to do.

Never a traceback; that goes to the log.
"""

import html

import streamlit as st

from explorer.app import network
from explorer.app.logging_setup import log_fault, log_path

KEY = "calm_go_on"
_SAFE = (
    "Something went wrong in the program itself, not in what you did. Your piece and your beads "
    "are safe: what was kept last is on this computer, whole."
)
_DO = (
    "Press Go on. If this comes back, press Undo, or reload the page: the piece comes back as it "
    "last worked."
)


def calm(error: Exception) -> bool:
    """Show a calm page instead of the framework's, and write the fault to the log.

    Args:
        error: what nobody expected.

    Returns:
        True, which tells the framework that the fault was shown.
    """
    log_fault(error)
    lines = [_SAFE, _DO]
    # Where files lie on the server's computer is nobody else's business.
    if not network.from_elsewhere():
        lines.append(
            f"To report it, send the file {log_path()}. It says where the program failed; it holds "
            "no names and no measurements."
        )
    paragraphs = "".join(f"<p>{html.escape(line)}</p>" for line in lines)
    st.html(f'<div class="dw-note dw-fault" role="alert">{paragraphs}</div>')
    st.button("Go on", key=KEY)
    return True
