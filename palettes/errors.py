"""The error that says what is wrong with a data file."""


class ChartError(Exception):
    """A file of beads or colours cannot be used as it stands.

    Args:
        path: the file as its owner knows it.
        entry: the place inside it - a row, a key, a colour's name.
        why: what was found, what is allowed and what to do, in one sentence or two.
    """

    def __init__(self, path: str, entry: str, why: str) -> None:
        super().__init__(f"{path}, {entry}: {why}")
        self.path = path
        self.entry = entry
        self.why = why

    def __reduce__(self) -> tuple[type["ChartError"], tuple[str, str, str]]:
        # An exception is copied from its message alone, which is not what makes ours.
        return type(self), (self.path, self.entry, self.why)
