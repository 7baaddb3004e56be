"""What a page says while the app is open to a network."""

from explorer.app import network
from explorer.app.parts.notes import note

_OPEN = (
    "This app is open to everyone in this network, and all that is typed and shown here travels "
    "through it unencrypted. Write nothing that others must not read."
)
_THEIRS = "What you save stands on a shelf that everyone in this lesson can see and change."
_MINE = "Your own shelf and beads are shown on this computer only, not to others in the network."


def say_network() -> None:
    """One line while a network is let in; nothing otherwise."""
    if network.listening_at():
        note(f"{_OPEN} {_THEIRS if network.from_elsewhere() else _MINE}", kind="care")
