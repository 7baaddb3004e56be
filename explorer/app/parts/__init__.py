"""Pieces of page that several views share."""
