"""The job: sizing, profiles, colour orders, contrast, proposals, layout, counts and saved pieces.

A newcomer reads ``explorer.propose`` first.
"""
