"""Curves as plain values, and the questions that can be asked of them; one module a question.

Points are ``(x, y)`` tuples of float, y up, in any one unit, their distance is `math.dist`; angles
are radians counter-clockwise from +x; a curve is a `curves.Line`, `Arc` or `Circle`. A parameter
runs from 0 to 1 evenly by length. Tolerances are lengths, by default 1e-9 of the size of what is
asked about (`bounds.tolerance`).

One curve: `evaluate`, `project.nearest`, `bounds`, `clip.visible`, `cubic.cubics`. Two:
`meet.meet(a, b, bounded)` returns `Meeting` values (point, both parameters, kind), `meet.overlap`
what lies on both; `corner_blends.fillet` and `chamfer` come with the trimmed curves. Constructions:
`arcs`, `tangent_lines`, `tangent_circles`, `offset_curves.offset` and `around`. Many curves:
`curve_table.CurveTable` and `meet_many.meet_all`; `chain.nodes`; `loops.find_loops` (orientation,
depth, strays, crossings, overlaps); `near_misses.near_misses`; `moments.section`; `winding.Rises`;
`arrangement.Arrangement`, whose `outline(faces)` gives spans with the ids that they lie on, beside
`face_at`, `boundary`, `nearest`, `onward` and `walk`.

Nothing here knows a part, an id's meaning or a unit. Questions about many curves come in portions,
which ask `interrupt.check` whether they are still wanted.
"""
