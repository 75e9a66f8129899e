"""The document: an immutable value, its binding kinds, edits, history, images and file store.

`value.Part` is frozen and its mappings are read-only views with an order; ``part.having(points=
...)`` makes the next one. What a person types or reads is in degrees and the part's unit, inside
angles are radians. What others use:

- `kinds`: `KINDS` by name and `fitting`, `bind`, `measure`, `wanted`, `residual`, `sides`,
  `settle_sides` about any binding. `edits.EDITS`: every edit by name, a function ``edit(part, ...)
  -> Edited``; `edits.draft.Draft` is the mutable builder that tools and edits share.
- `whole.half(part)`: curves as drawn by id; `whole.whole(part)`: `Piece` values with reflection and
  patterns, each with an `image_id.ImageId`. Its name is printed for people and files, and
  `read_image_id` alone reads one back.
- `arranged.arranged(part)`: the regions that layout, outline and axis bound, kept for the last
  part; the edits `trace(part, places)` and `trace_along(part, halves)` make outline of them.
- `check.check_values(part)` evaluates every expression and raises `QuantityError`;
  `check.check_changes` does so with what an edit changed before it is shown, so that no part can be
  made that its own file could not hold. `limits`: what a dimension allows, and chains of them.
- `file_text.read` and `write` are exact and `store.load`, `open_file`, `save` refuse a file that
  changed on disk. `atomic.read_bytes` and `write_bytes` are the only way to a file's content.
  `autosave.RecoveryFolder` keeps recovery files, `history.History` the list of parts.

Nothing here solves or inspects, and only `atomic`, `leftovers`, `store` and `autosave` touch a
file.
"""
