"""What pieces of version 1 come to: motifs kept bead by bead, and letters of their codes.

Run by hand: ``python -m tests.bench.measure_version_1``.
"""

import numpy as np

from explorer.piece import from_json
from explorer.share import to_code
from tests.reference.version_1 import kept


def main() -> None:
    """Print the figures of all kept pieces."""
    pieces = [from_json(one.piece) for one in kept()]
    motifs = sum(len(piece.design.motifs) for piece in pieces)
    held = sum(one.held is not None for piece in pieces for _, one in piece.pattern.motifs)
    letters = [len(to_code(piece)) for piece in pieces]
    half, most = np.percentile(letters, (50, 95))
    print(f"{len(pieces)} pieces, {motifs} motifs, {held} of them kept bead by bead")
    print(f"codes: half of {half:.0f} letters or fewer, 95 % of {most:.0f}")


if __name__ == "__main__":
    main()
