"""The views of a drawing: the part whole or broken, its details, and how they lie on the sheet.

Given: `detail_rings` (where a detail is wanted), `detail_views` (one detail, its ring on the part),
`detail_measures` (which dimensions it takes over), `broken_view` (what a long part can be drawn
without), `arranged_views` (no view on another). `view_contents` puts them together. Nothing here
knows the sheet or its scale.
"""
