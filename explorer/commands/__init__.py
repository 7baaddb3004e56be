"""The command line's parts: each command turns options into a document and lines of text."""
