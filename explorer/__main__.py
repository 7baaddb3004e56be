"""Starts the command line, and ends it in one plain line at Ctrl+C, however early that comes."""

import sys

from explorer.stopping import loading


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; the exit code."""
    with loading():
        from explorer.command_line import main as run
    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
