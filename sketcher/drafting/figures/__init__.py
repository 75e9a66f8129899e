"""Figures beside the steps of a construction: what is drawn when, with names and step numbers.

Given: `figure_steps` (which steps a figure is for, and what they name), `figure_ink` (lines, dots
and wanted names in the part's unit), `name_places` (where names stand clear), `figure_drawing`
(one figure on its place on the paper, with enlarged details where names find no room).
"""
