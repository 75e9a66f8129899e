"""The construction of a half as a person with straightedge and compass makes it.

`construction(part)` gives the steps in the order of a drafter: datum and center lines, circles and
holes, what stands on them, tangent lines and arcs, edges cut to length, fillets, the outline gone
over, patterns and the reflection. Each step says what to do with the paper's own numbers, and holds
the hand moves that do it: strokes of straightedge and compass alone, each with its place, so that a
page can be drawn and a scene played from them.
"""
