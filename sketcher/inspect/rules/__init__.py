"""Cutting rules, one file each: a fact about the cutter that the part's geometry must respect."""
