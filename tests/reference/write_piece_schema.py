"""Writes explorer/data/piece-2.schema.json anew: ``python -m tests.reference.write_piece_schema``.

The library that reads pieces describes the types that it reads; here what the types say of
themselves is put beside each part.
"""

import json
import re
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from explorer.brief import MOST_SEED
from explorer.pattern import Pattern
from explorer.piece import MOST_NAME, MOST_NOTES, SHELF_KEY, VERSION, VERSION_KEY

FILE = Path(__file__).parents[2] / f"explorer/data/piece-{VERSION}.schema.json"
# One line of a docstring's attributes, or of several that share their words.
_ATTRIBUTE = re.compile(r"    (\w+(?:, \w+)*): (.+)")


def schema() -> dict[str, Any]:
    """The schema of a saved piece."""
    whole: dict[str, Any] = TypeAdapter(Pattern).json_schema()
    parts = whole.pop("$defs")
    described = {name: _described(part) for name, part in sorted(parts.items())}
    pattern = _described(whole)
    head = {
        VERSION_KEY: {"const": VERSION},
        "name": {"type": "string", "minLength": 1, "maxLength": MOST_NAME},
        "notes": {"type": "string", "maxLength": MOST_NOTES},
        "seed": {
            "description": "the number its proposal started from, if it was proposed",
            "anyOf": [
                {"type": "integer", "minimum": 0, "maximum": MOST_SEED},
                {"type": "null"},
            ],
        },
    }
    tail = {
        "woven": {
            "description": "a mark of the beads that were woven from it when it was saved",
            "type": "string",
        },
        SHELF_KEY: {
            "description": "what a shelf knows of it, where it comes from one",
            "type": "object",
        },
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"A Danglewise piece, version {VERSION}",
        "description": (
            "A fringed strip as it was meant: rules, and what was done by hand. Beads follow from "
            "it. Lengths are millimetres, places are counted from 0, and what is as usual is left "
            "out. " + pattern["description"]
        ),
        "type": "object",
        "required": [VERSION_KEY, "name", "notes", *pattern["required"]],
        "properties": {**head, **pattern["properties"], **tail},
        "additionalProperties": False,
        "$defs": described,
    }


def _described(part: dict[str, Any]) -> dict[str, Any]:
    """A part with its attributes' words beside each, and without headings that say nothing."""
    words, _, attributes = part.get("description", "").replace("``", "'").partition("Attributes:")
    found = {key: value for key, value in part.items() if key not in {"title", "description"}}
    found = {"description": " ".join(words.split()), **found}
    if "properties" not in part:
        return found
    told = _told(attributes)
    found["properties"] = {
        name: {
            **({"description": told[name]} if name in told else {}),
            **{key: value for key, value in inner.items() if key != "title"},
        }
        for name, inner in part["properties"].items()
    }
    return {**found, "additionalProperties": False}


def _told(attributes: str) -> dict[str, str]:
    """What a docstring says of each attribute."""
    told: dict[str, str] = {}
    names: list[str] = []
    for line in attributes.splitlines():
        first = _ATTRIBUTE.fullmatch(line)
        if first:
            names = first[1].split(", ")
            told.update(dict.fromkeys(names, first[2]))
        elif line.strip():
            told.update({name: f"{told[name]} {line.strip()}" for name in names})
    return told


def text() -> str:
    """The schema's file."""
    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(text(), "utf-8")
