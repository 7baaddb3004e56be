"""Materials and colour: beads, finishes, colour spaces, differences, vision, lights, palettes.

Knows nothing of strips, motifs or pictures.
"""
