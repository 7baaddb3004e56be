"""The error that a maker can mend."""

from palettes.errors import clipped, quoted


class BriefError(Exception):
    """Something the maker asked for cannot be taken as it stands.

    Args:
        field: the name of the option or the box, such as ``snug``.
        got: the value as it was given; the middle of a very long one is left out.
        wanted: what is allowed there.
        remedy: what to do now, as a sentence with a verb.
    """

    def __init__(self, field: str, got: object, wanted: str, remedy: str) -> None:
        told = clipped(str(got))
        got = got if told == str(got) else told
        wanted, remedy = clipped(wanted, sentence=True), clipped(remedy, sentence=True)
        super().__init__(f"{field}: got {quoted(got)}; wanted {wanted}. {remedy}")
        self.field = field
        self.got = got
        self.wanted = wanted
        self.remedy = remedy

    def __reduce__(self) -> tuple[type["BriefError"], tuple[str, object, str, str]]:
        # An exception is copied from its message alone, which is not what makes ours.
        return type(self), (self.field, self.got, self.wanted, self.remedy)

    def as_dict(self) -> dict[str, str]:
        """The four parts as plain text, for ``--json`` and the app."""
        return {
            "field": self.field,
            "got": str(self.got),
            "wanted": self.wanted,
            "remedy": self.remedy,
        }
