"""Codes of version 1, which held a piece bead by bead: read only."""

from typing import Any

from explorer.piece import VERSION_KEY

# What most pieces said. Another text would read every code of this version wrongly, so it never
# changes.
KNOWN = (
    b'"drop""faceted""cylinder""lobster clasp""round 15/0""round 6/0""cube 1.8"'
    b'"lustre"],"pearl"],"dyed"],"rainbow"],"metallic"],"galvanised"],"colour-lined"],'
    b'"silver-lined"],"transparent"],"matte"],"opaque"],'
    b'[["cube 1.8","cube",1.8,1.8,0.8,95.0,1.95],["round 11/0","round",2.1,1.45,0.8,110.0,2.25],'
    b'["cube 3","cube",3.0,3.0,1.0,19.0,3.1],["round 8/0","round",3.0,2.05,1.05,37.0,3.15]],'
    b"],[[6],[6,5]],[[7],[7,6]],[[5],[5,4]],[[4,0],[4,0,0],[4,0,0,0],[4,0,0],[4,0]],"
    b'[5,0,0,0,0],[5,0,0,0,0,0],[0,1,0,2,0,3,0,4,0,5,0,1,0,2],{"s":null,"p":3.1,"k":'
    b'],"b":[["#],"u":[[[],"m":[0,1,2,3,4,5,"d":[0,0,0,0,0,0,0,0],"e":[[],[]],"l":[[],[]],"c":['
)
# Chosen by us: a design of 20 000 base beads stays below it.
_MOST_BEADS = 5_000_000
_KIND_KEYS = (
    "name", "form", "diameter_mm", "pitch_mm", "hole_mm", "beads_per_gram", "ladder_pitch_mm",
)  # fmt: skip
_BEAD_KEYS = ("hex", "kind", "name", "finish")


def unpacked(body: dict[str, Any], unnamed: str) -> dict[str, Any]:
    """The document of a saved piece; whatever is wrong in it is found where pieces are read.

    Args:
        body: what a code says.
        unnamed: the name of a piece whose code holds none.
    """
    groups = body["u"]
    kinds = [dict(zip(_KIND_KEYS, kind, strict=True)) for kind in body["k"]]
    beads = [dict(zip(_BEAD_KEYS, bead, strict=True)) for bead in body["b"]]
    for bead in beads:
        bead["kind"] = kinds[_place(bead["kind"])]["name"]
    return {
        VERSION_KEY: 1,
        "name": body.get("n", unnamed),
        "notes": "",
        "seed": body["s"],
        "wearer": body.get("w"),
        "wear": body.get("r"),
        # Codes before 0.2 do not say; without a measurement there is nothing to tell it from.
        "plain_ends": body.get("f") == 1,
        "pitch_measured": body.get("y") == 1,
        "base_pitch_mm": body["p"],
        "kinds": kinds,
        "beads": beads,
        "motifs": _spread(groups, body["m"]),
        "dividers": _spread(groups, body["d"]),
        "margins": body["e"],
        "links": body["l"],
        "closure": dict(zip(("kind", "length_mm", "extender_mm"), body["c"], strict=True)),
    }


def _place(number: object) -> int:
    if isinstance(number, bool) or not isinstance(number, int) or number < 0:
        raise ValueError(f"a place is a whole number from 0; got {number!r}")
    return number


def _spread(groups: list[Any], places: list[Any]) -> list[Any]:
    """Every group written out; bounded, since a few letters could ask for very many beads."""
    found, beads = [], 0
    for number in places:
        group = groups[_place(number)]
        beads += sum(len(column) for column in group)
        if beads > _MOST_BEADS:
            raise ValueError("more beads than any strip has")
        found.append(group)
    return found
