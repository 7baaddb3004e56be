"""The error that says what is wrong with a data file."""

# Chosen by us, because a value of two lines of a terminal is known again by its beginning and end,
# and no sentence or list of ours is longer than a full screen.
_MOST_VALUE, _MOST_SENTENCE = 200, 2000
# Zero-width non-joiner and joiner, which are part of the sign that they stand in (Unicode Standard
# Annex 29).
_JOINERS = ("\u200c", "\u200d")


def clipped(text: str, *, sentence: bool = False) -> str:
    """A text as an error shows it: its middle left out where it is very long.

    Args:
        text: a value as it was given or, where ``sentence`` says so, what is told about one.
        sentence: whether more of it stays.
    """
    most = _MOST_SENTENCE if sentence else _MOST_VALUE
    if len(text) <= most:
        return text
    return f"{text[: most // 2]} ... {text[len(text) - most // 2 :]}"


def quoted(value: object) -> str:
    """A value as Python writes it, but with the joiners inside a sign: a family stays one.

    What moves a cursor or turns writing round is spelled out.
    """
    if not isinstance(value, str) or not any(joiner in value for joiner in _JOINERS):
        return repr(value)
    return f"'{''.join(c if c in _JOINERS else repr(c)[1:-1] for c in value)}'"


class ChartError(Exception):
    """A file of beads or colours cannot be used as it stands.

    Args:
        path: the file as its owner knows it.
        entry: the place inside it - a row, a key, a colour's name.
        why: what was found, what is allowed and what to do, in one sentence or two.
    """

    def __init__(self, path: str, entry: str, why: str) -> None:
        path, entry, why = clipped(path), clipped(entry), clipped(why, sentence=True)
        super().__init__(f"{path}, {entry}: {why}")
        self.path = path
        self.entry = entry
        self.why = why

    def __reduce__(self) -> tuple[type["ChartError"], tuple[str, str, str]]:
        # An exception is copied from its message alone, which is not what makes ours.
        return type(self), (self.path, self.entry, self.why)
