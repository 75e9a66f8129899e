"""Figures beside the steps of a construction: what is drawn when, with names and step numbers.

Given: `figure_steps` (which steps a figure is for, and what they name), `figure_ink` and
`stroke_ink` (its lines and the names that it needs, for steps and for their hand moves, in the
part's unit), `name_labels` and `name_places` (how names are lettered, and where they stand clear),
`figure_drawing` (one figure on its place on the paper, with enlarged details where names find no
room). The page is put together by `step_lines`, `page_parting`, `move_pages`, and
`further_pages.order_page`.
"""
