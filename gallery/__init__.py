"""Pictures: draws a scene of placed beads to pixels, contact sheets and printable pages.

Knows nothing of design rules; captions and tables come to it as plain text.
"""
