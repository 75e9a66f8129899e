"""Edits, one file each: a part and arguments in, a part out."""
