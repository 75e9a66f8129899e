"""The part at full size on paper that is laid on the blank and punched through.

Given: `template_ink` (outline, center lines and punch crosses in mm), `tiling` (which sheets it
takes and what each shows), `tile_labels` (letters beside the holes), `tile_strip` (bars to measure,
words and map of each sheet). `template_pages` puts them together as `Page` values. Nothing here
writes a file, and nothing is ever scaled.
"""
