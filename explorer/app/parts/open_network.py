"""What a page says while the app is open to a network."""

from explorer.app import network
from explorer.app.parts.notes import note

_OPEN = (
    "This app is open to everyone in this network, and all that is typed and shown here travels "
    "through it unencrypted. Write nothing that others must not read."
)
_THEIRS = (
    "What you save stands on a shelf that everyone in this lesson and in later ones can see and "
    "change; what was saved in earlier lessons stands there too."
)
_MINE = (
    "Whoever uses this computer sees your own shelf and beads; others in the network do not, they "
    "share the lesson's shelf."
)


def say_network() -> None:
    """One line while a network is let in; nothing otherwise."""
    if network.listening_at():
        # The folder of whoever started it is nobody else's business.
        words = _THEIRS if network.from_elsewhere() else f"{_MINE} {network.lesson_words()}"
        note(f"{_OPEN} {words}", kind="care")
